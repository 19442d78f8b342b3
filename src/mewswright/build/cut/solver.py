"""A silent instance of the linear and integer solver.

The solver's Python class prints a banner to standard output while it is being made, before
it can be told to be quiet; that would spoil `--json`. Its base class can be told first.
"""

from typing import Any


def quiet_solver(**options: bool | int | float | str) -> Any:
    """A solver that prints nothing, runs on one thread and repeats itself.

    Args:
        options: Solver options by their own names.
    """
    import highspy

    class Quiet(highspy.Highs):
        """The solver without the call-backs whose setting-up prints the banner."""

        def __init__(self) -> None:
            super(highspy.Highs, self).__init__()
            self.setOptionValue("output_flag", False)

    settings: dict[str, bool | int | float | str] = {"threads": 1, "random_seed": 1, **options}
    solver = Quiet()
    for name, value in settings.items():
        solver.setOptionValue(name, value)
    return solver
