"""Nights on the leash against the standards that speak of them.

The German practice page, as read: welded mesh of 25 mm against martens. Quebec, s. 102, as
read: a predator-proof cage; the handbook's narrowest gap against an animal that kills a bird
is the weasel's, 13 mm, from memory.
"""

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard


def shelter(standards, gap_mm=10, kind="shelter", faces=None, **more):
    front = {"infill": "meshed", "gap_mm": gap_mm, "mesh_kind": "welded"}
    place = {"faces": faces or {"front": front}} if kind != "pitch" else {}
    made = quarters("Yard", kind, fitting=[perch()], **place | more.pop("place", {}))
    tied = stay("Flint", "Yard", "tethered", perch="perch") | more
    return yard(standards, bird=[bird("Flint", "peregrine_falcon")], quarters=[made], stay=[tied])


@pytest.mark.parametrize(
    ("standard", "gap_mm", "status"),
    [("de-practice", 25, "sound"), ("de-practice", 26, "short"), ("ca-qc", 13, "sound"),
     ("ca-qc", 14, "harm")],
)  # fmt: skip
def test_t120_widest_gap(standard, gap_mm, status):
    found = only(shelter((standard,), gap_mm), "T120")
    assert (found.status, found.measured.value) == (status, gap_mm)


def test_t120_the_remedies_clear_it():
    found = only(shelter(("de-practice",), 40), "T120")
    assert found.remedy == (
        "close the front face with welded mesh whose clear gaps are 25 mm or less, "
        "or bring it in for the night"
    )
    assert only(shelter(("de-practice",), 25), "T120").status == "sound"
    assert findings(shelter(("de-practice",), 40, daytime_only=True), "T120") == []


def test_t120_an_open_pitch_and_an_open_front():
    assert only(shelter(("ca-qc",), kind="pitch"), "T120").remedy == "bring it in for the night"
    found = only(shelter(("ca-qc",), faces={"front": {"infill": "open"}}), "T120")
    assert (found.status, str(found.measured)) == ("harm", "open")


@pytest.mark.parametrize(("gap_mm", "status"), [(None, "mind"), (25, "sound"), (26, "short")])
def test_t120_the_top(gap_mm, status):
    top = {"covered_share": 0.5, "open_infill": "meshed"}
    top |= {} if gap_mm is None else {"open_gap_mm": gap_mm}
    assert only(shelter(("de-practice",), place={"roof": top}), "T120").status == status


def test_t120_is_silent_where_no_standard_speaks():
    assert findings(shelter(("house",), 60), "T120") == []
