"""Leash and perch of a tethered bird.

The handbook's rows, from memory: 0.3 to 0.5 m from ring to swivel on bow or block, for a
medium hawk or falcon. Hawks stand on bow or ring, falcons on a block. That a leash which
gives may be 200 mm longer is a judgement.
"""

import re

import pytest

from support.yards import bird, findings, only, perch, quarters, stay, yard


def tied(form="block", species="peregrine_falcon", mass_g=900, **more):
    across = {"length_mm": 600} if form in ("bow", "round", "branch", "flat", "shelf") else {}
    if form in ("flat", "shelf"):
        across |= {"width_mm": 100}
    made = perch(form=form, **across)
    one = bird("Flint", species, mass_g=mass_g, **more)
    return yard(
        bird=[one], quarters=[quarters("Yard", "shelter", fitting=[made])],
        stay=[stay("Flint", "Yard", "tethered", perch="perch")],
    )  # fmt: skip


@pytest.mark.parametrize(
    ("length_mm", "leash", "status"),
    [(300, "braided", "sound"), (299, "braided", "mind"), (500, "braided", "sound"),
     (501, "braided", "short"), (501, "leather", "short"), (501, "elastic", "sound"),
     (700, "elastic", "sound"), (701, "elastic", "short"), (500, None, "mind"),
     (700, None, "mind"), (701, None, "short"), (None, "braided", "mind"), (None, None, "mind")],
)  # fmt: skip
def test_t118_run_up(length_mm, leash, status):
    assert only(tied(leash_working_mm=length_mm, leash=leash), "T118").status == status


def test_t118_remedies_clear_it():
    found = only(tied(leash_working_mm=650, leash="webbing"), "T118")
    by = int(re.fullmatch(r"tie it (\d+) mm shorter", found.remedy).group(1))
    assert only(tied(leash_working_mm=650 - by, leash="webbing"), "T118").status == "sound"
    assert only(tied(), "T118").remedy == (
        "measure it from ring to swivel and give leash_working_mm, and leash, its material"
    )


@pytest.mark.parametrize(
    ("mass_g", "status"), [(399, "mind"), (400, "short"), (1800, "short"), (1801, "mind")]
)
def test_t118_the_figures_speak_of_medium_birds(mass_g, status):
    assert only(tied(leash_working_mm=600, leash="braided", mass_g=mass_g), "T118").status == status


@pytest.mark.parametrize(
    ("species", "form", "status"),
    [("peregrine_falcon", "block", "sound"), ("peregrine_falcon", "bow", "short"),
     ("peregrine_falcon", "shelf", "short"), ("eurasian_goshawk", "bow", "sound"),
     ("eurasian_goshawk", "ring", "sound"), ("eurasian_goshawk", "block", "short"),
     ("eurasian_goshawk", "round", "short"), ("red_tailed_hawk", "block", "sound"),
     ("golden_eagle", "block", "sound"), ("golden_eagle", "ring", "sound"),
     ("griffon_vulture", "block", "sound")],
)  # fmt: skip
def test_t119_form_of_the_perch(species, form, status):
    found = only(tied(form, species), "T119")
    assert found.status == status
    if status != "sound":
        better = found.remedy.removeprefix("tie it to a ")
        assert only(tied(better, species), "T119").status == "sound"


def test_loose_birds_have_no_leash():
    of = yard(bird=[bird()], quarters=[quarters(fitting=[perch()])], stay=[stay()])
    assert findings(of, "T118") + findings(of, "T119") == []
