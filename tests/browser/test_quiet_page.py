"""The guard over every browser test hears what it is there to hear.

These tests open a context of their own, which the guard does not watch.
"""

import pytest

from support.quiet import listen


def complaints_about(browser, script, allowed=()):
    """What is heard of an empty page that runs `script`, which sets `done` at its end."""
    context = browser.new_context()
    try:
        complaints = listen(context, allowed)
        page = context.new_page()
        page.set_content(f"<!doctype html><title>t</title><script>{script}</script>")
        page.wait_for_function("window.done === true")
        page.wait_for_timeout(50)  # events come a moment after the script that caused them
        return complaints
    finally:
        context.close()


@pytest.mark.parametrize(
    ("script", "complaint"),
    [
        ("setTimeout(() => { window.done = true; throw new Error('torn') })", "page error: torn"),
        ("console.error('torn'); window.done = true", "console error: torn"),
        (  # 192.0.2.0/24 is set aside for documentation: RFC 5737
            "new Image().src = 'http://192.0.2.1/x.png'; window.done = true",
            "a request left this machine: http://192.0.2.1/x.png",
        ),
    ],
)
def test_a_fault_is_heard(browser, script, complaint):
    assert any(complaint in heard for heard in complaints_about(browser, script))


def test_a_quiet_page_is_left_in_peace(browser):
    script = "console.log('fine'); new Image().src = 'data:,'; window.done = true"
    assert complaints_about(browser, script) == []


def test_an_error_brought_about_on_purpose_may_be_allowed(browser):
    script = "console.error('404 (Not Found)'); window.done = true"
    assert complaints_about(browser, script, allowed=["404"]) == []
