"""The whole pack of the demo's largest unit, beside bare typesetting of its PDF.

Whoever changes a unit prints it again and waits. Typesetting pages that are ready is work
that any printed pack costs: same machine, same run, same pages, and so the baseline. Both in
processor seconds, all threads counted, for Typst works in several.
"""

import tomllib
from importlib.resources import files
from time import process_time
from unittest.mock import patch

from mewswright.model.yard import Yard
from mewswright.papers import pack
from mewswright.papers.typeset import typeset

LIMIT = 20  # times the typesetting
DEMO = (files("mewswright") / "examples" / "alder-close.yard.toml").read_text(encoding="utf-8")
YARD = Yard.model_validate(tomllib.loads(DEMO))
UNIT = max(
    (q for q in YARD.quarters if q.kind != "pitch"), key=lambda q: q.width_mm * q.depth_mm
).name


def spent_s(work, *args):
    """Processor seconds of one go, and what it gave."""
    start = process_time()
    given = work(*args)
    return process_time() - start, given


with patch.object(pack, "typeset", wraps=typeset) as asked:
    first_s, made = spent_s(pack.build_pack, YARD, [UNIT])
pages = asked.call_args_list[-1].args[0]  # the labels are typeset before the pack
goes = [spent_s(pack.build_pack, YARD, [UNIT]) for _ in range(3)]
bare = [spent_s(typeset, pages) for _ in range(3)]
# A fast wrong answer is no answer: the same pages, and the same pack each time.
assert all(pdf == made.files["pack.pdf"] for _, pdf in bare)
assert all(other.files == made.files for _, other in goes)
pack_s, bare_s = min(s for s, _ in goes), min(s for s, _ in bare)
print(
    f"{UNIT}: {len(made.files)} files in {pack_s:.1f} s ({first_s:.1f} s the first time), bare "
    f"typesetting of pack.pdf {bare_s:.2f} s: {pack_s / bare_s:.1f} times (limit {LIMIT})"
)
