"""Comments that head a table stay with it."""

import tomlkit

from mewswright.model.comments import lifted, set_back
from mewswright.model.yard_file import set_value

TEXT = """\
# The whole file.

format = 1  # one

# Birds
[[bird]]
name = "Flint"

# The second.
#
# It is new.

[[bird]]
name = "Sleet"
note = '''
# not a comment
[[bird]]
'''

# Quarters
[[quarters]]
name = "Loft"

# Its perches
[[quarters.fitting]]
name = "a"
# an end
"""


def test_lifting_and_setting_back_changes_nothing():
    bare, headings = lifted(TEXT)
    assert [len(h.lines) for h in headings] == [1, 4, 1, 1]
    assert "# Birds" not in bare
    assert set_back(bare, headings) == TEXT


def test_a_new_key_comes_before_the_comment_of_the_next_table():
    new = set_value(TEXT, ("bird", 0, "mass_g"), 600)
    assert new == TEXT.replace('name = "Flint"\n', 'name = "Flint"\nmass_g = 600\n')


def test_a_table_that_goes_leaves_the_comment_of_the_next_one():
    bare, headings = lifted(TEXT)
    document = tomlkit.parse(bare)
    del document["bird"][1]
    new = set_back(tomlkit.dumps(document), headings)
    assert "# The second.\n#\n# It is new.\n\n# Quarters\n[[quarters]]\n" in new


def test_a_comment_whose_table_and_all_after_it_are_gone_goes_to_the_end():
    bare, headings = lifted(TEXT)
    document = tomlkit.parse(bare)
    document["quarters"][0].remove("fitting")
    new = set_back(tomlkit.dumps(document), headings)
    assert new.rstrip().endswith("# Its perches")
