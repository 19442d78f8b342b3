"""The few paths that a keeper walks: ground to quarters to finding to source, and a bird."""

import re

import pytest

PATHS = [
    "/ground", "/ground?layer=shade", "/ground?layer=wind", "/quarters", "/quarters/Long%20loft",
    "/birds", "/birds/Bramble", "/checks",
]  # fmt: skip
SIZES = {"phone": (390, 844), "desk": (1440, 900)}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("path", PATHS)
def test_no_page_is_wider_than_its_screen(browser, base_url, path, size, scheme):
    width, height = SIZES[size]
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, base_url=base_url
    )
    page = context.new_page()
    page.goto(path)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.locator("h1").count() == 1
    context.close()


def test_ground_leads_to_quarters_and_on_to_a_check(page, base_url):
    page.goto(f"{base_url}/ground")
    page.locator("figure.sheet svg a[href='/quarters/North%20loft']").first.click(
        force=True  # its pin, on top, is the same link
    )
    page.wait_for_url("**/quarters/North%20loft")
    assert page.locator("h1").inner_text() == "North loft"
    page.locator("#findings ~ section a.code", has_text="P104").first.click()
    page.wait_for_url("**/checks/P104")
    assert page.get_by_role("heading", name="What to change").is_visible()


def test_a_pin_on_the_plan_leads_to_its_finding(page, base_url):
    page.goto(f"{base_url}/quarters/North%20loft")
    page.locator("#plan svg a[href='#subject-1']").first.click()
    assert page.url.endswith("#subject-1")
    assert page.locator("#subject-1").is_visible()


def test_every_place_on_the_ground_is_named(page, base_url, yard_file):
    page.goto(f"{base_url}/ground")
    drawn = page.locator("figure.sheet svg").text_content()
    names = re.findall(
        r'(?m)^\[\[(?:feature|quarters)\]\]\nname = "([^"]+)"', yard_file.read_text()
    )
    assert len(names) > 20
    titles = page.locator("figure.sheet svg title").all_text_contents()
    missing = [n for n in names if n not in drawn and not any(n in t for t in titles)]
    assert missing == []


def test_keyboard_alone_reaches_a_bird(page, base_url):
    page.goto(f"{base_url}/birds")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Ember":
            break
    else:
        pytest.fail("40 tabs did not reach Ember")
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline != "none"
    page.keyboard.press("Enter")
    page.wait_for_url("**/birds/Ember")


def test_the_page_follows_its_file(page, base_url, yard_file):
    before = yard_file.read_text()
    try:
        page.goto(f"{base_url}/ground")
        assert page.locator("header .yard-name").inner_text() == "Alder Close"
        yard_file.write_text(before.replace('name = "Alder Close"', 'name = "Alder Close again"'))
        page.locator("header .yard-name", has_text="again").wait_for(timeout=8000)
        yard_file.write_text(before.replace("width_mm = 7200", 'width_mm = "wide"'))
        alert = page.get_by_role("alert")
        alert.wait_for(timeout=8000)
        assert "width_mm" in alert.inner_text()  # the last good reading still stands behind it
        assert page.locator("header .yard-name").inner_text() == "Alder Close again"
    finally:
        yard_file.write_text(before)


def test_pages_work_without_script(browser, base_url):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto("/quarters/Orchard%20shelter")
    assert page.locator("#takeoff").is_visible()
    assert page.locator("#cuts").is_visible()
    context.close()


def test_the_hour_moves_the_shade(page, base_url):
    page.goto(f"{base_url}/ground?layer=shade&day=2026-06-21&hour=9")
    caption = page.locator("#plan figcaption strong")
    assert caption.inner_text() == "Shade, 21 June, 09:00"
    before = page.locator("#plan .fill-shade").first.get_attribute("points")
    page.locator("input[name=hour]").fill("17.5")
    page.locator("#plan figcaption strong", has_text="17:30").wait_for(timeout=8000)
    assert page.locator("#plan .fill-shade").first.get_attribute("points") != before
    assert "hour=17.5" in page.url
