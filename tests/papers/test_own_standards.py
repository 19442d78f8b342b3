"""The pack of a yard that is judged by a standard of its keeper's own."""

import io
import json
from datetime import date

from pypdf import PdfReader

from mewswright.papers.pack import build_pack
from support.standards import rule, size, standard
from support.yards import bird, quarters, stay, yard


def test_a_day_that_changes_nothing_is_not_in_the_pack():
    """The same yard gives the same bytes on every day, unless a rule's day has come."""
    of = yard(("ch-tschv", "house"))
    packs = [build_pack(of, on=on).files for on in (None, date(2027, 3, 1), date(2030, 1, 1))]
    assert packs[0] == packs[1] == packs[2]
    assert json.loads(packs[0]["pack.json"])["judged_on"] is None


def test_the_pack_names_the_standard_its_source_and_the_day():
    own = standard(
        size(value=40, valid_from=date(2027, 1, 1)), rule(how_known="second hand", source="letter")
    )
    of = yard(
        ("hollow-hills",), bird=[bird("Thistle", "common_kestrel")], quarters=[quarters()],
        stay=[stay("Thistle")],
    ).with_own_standards([own])  # fmt: skip
    pack = build_pack(of, on=date(2027, 3, 1))
    record = json.loads(pack.files["pack.json"])
    assert record["judged_on"] == "2027-03-01"
    (named,) = record["standards"]
    assert (named["key"], named["own"]) == ("hollow-hills", True)
    trusts = {line["name"]: line["trust"] for line in record["sources"]}
    assert trusts["Hollow Hills, Norms for members"] == "Invented for tests."
    assert trusts["Hollow Hills, letter to members"] == "Invented for tests."
    reader = PdfReader(io.BytesIO(pack.files["pack.pdf"]))
    words = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    assert "Hollow Hills norms; as they bind on 2027-03-01" in words
    assert "from the yard file and the standards beside it alone" in words
