"""The Year page as a keeper uses it: work it out, lock by drag, taps, keys, or without script."""

import re

import pytest

ASK = "from=2027-03-01&weeks=8&seconds=20"
SIZES = {"phone": (390, 844), "desk": (1440, 900)}
PATIENCE_MS = 90_000


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_the_page_is_no_wider_than_its_screen(browser, base_url, size, scheme):
    width, height = SIZES[size]
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, base_url=base_url
    )
    page = context.new_page()
    page.goto(f"/year?{ASK}")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.locator("h1").inner_text() == "Year"
    context.close()


def worked_out(page):
    page.locator(".take, .conflict").first.wait_for(timeout=PATIENCE_MS)


def point(page, bird, week):
    """Where a week of a bird's row lies on the screen."""
    return page.evaluate(
        """([bird, week]) => {
            const figure = document.querySelector("#plan");
            const row = JSON.parse(figure.dataset.rows).find(([name]) => name === bird);
            const svg = figure.querySelector("svg");
            svg.scrollIntoView({block: "center"});
            const box = svg.getBoundingClientRect();
            const [left, right] = [Number(figure.dataset.left), Number(figure.dataset.right)];
            return [box.left + box.width * (left + (right - left) * (week + 0.5) / 8),
                    box.top + box.height * (row[1] + row[2]) / 2];
        }""",
        [bird, week],
    )


def test_a_year_is_worked_out_in_place_and_taken_along(page, base_url):
    page.goto(f"{base_url}/year?{ASK}")
    page.evaluate("window.stayed = true")
    page.get_by_role("button", name="Work it out", exact=True).click()
    worked_out(page)
    assert page.evaluate("window.stayed")  # the page was never loaded anew
    assert "weeks=8" in page.url
    with page.expect_download() as download:
        page.get_by_role("link", name="calendar (ICS)").click()
    assert download.value.suggested_filename == "alder-close-year.ics"


def test_a_drag_fills_the_form_and_a_lock_is_kept(page, base_url):
    page.goto(f"{base_url}/year?{ASK}")
    x1, y = point(page, "Moth", 2)
    x2, _ = point(page, "Moth", 4)
    page.mouse.move(x1, y)
    page.mouse.down()
    page.mouse.move(x2, y, steps=5)
    page.mouse.up()
    form = page.locator("#pin")
    assert form.locator("[name=pin_bird]").input_value() == "Moth"
    assert form.locator("[name=pin_from]").input_value() == "2027-03-15"
    assert form.locator("[name=pin_to]").input_value() == "2027-04-04"
    assert form.locator("[name=pin_quarters]").input_value() == "Barn loft"
    assert page.locator(".said").inner_text().startswith("Moth, 2027-03-15 to 2027-04-04")
    form.get_by_role("button", name="Lock and work it out").click()
    page.wait_for_url(re.compile(r"lock=Moth%40Barn"), timeout=PATIENCE_MS)
    worked_out(page)
    assert page.locator("#pins ~ ul li", has_text="Moth@Barn loft").is_visible()
    page.get_by_role("link", name="take back").click()
    page.wait_for_url(re.compile(r"/year\?(?!.*lock=)"))


def test_keys_choose_a_stretch_and_lead_to_the_form(page, base_url):
    page.goto(f"{base_url}/year?{ASK}")
    page.locator("#plan .drawn").focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowDown", "Shift+ArrowRight"):
        page.keyboard.press(key)
    form = page.locator("#pin")
    assert form.locator("[name=pin_bird]").input_value() == "Flint"
    assert form.locator("[name=pin_from]").input_value() == "2027-03-08"
    assert form.locator("[name=pin_to]").input_value() == "2027-03-21"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.name") == "pin_quarters"


def test_two_taps_choose_a_stretch(browser, base_url):
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, base_url=base_url
    )
    page = context.new_page()
    page.goto(f"/year?{ASK}")
    x1, y = point(page, "Ember", 0)
    page.touchscreen.tap(x1, y)
    page.locator("#plan .drawn").evaluate("drawn => { drawn.scrollLeft = 120; }")
    x2, y = point(page, "Ember", 1)
    page.touchscreen.tap(x2, y)
    assert page.locator("#pin [name=pin_bird]").input_value() == "Ember"
    assert page.locator("#pin [name=pin_from]").input_value() == "2027-03-01"
    assert page.locator("#pin [name=pin_to]").input_value() == "2027-03-14"
    context.close()


def test_a_clash_is_told_and_can_be_taken_back(page, base_url):
    days = "2027-03-08..2027-03-21"
    page.goto(
        f"{base_url}/year?{ASK}&lock=Flint@Chalk shelter {days}&lock=Bramble@Chalk shelter {days}"
    )
    page.get_by_role("button", name="Work it out", exact=True).click()
    page.locator(".conflict").wait_for(timeout=PATIENCE_MS)
    assert "No plan" in page.locator("#conflict").inner_text()
    assert page.locator("#plan .drawing-year").is_visible()


def test_a_search_is_cancelled(page, base_url):
    page.goto(f"{base_url}/year?from=2027-03-08&weeks=52&seconds=200")
    page.get_by_role("button", name="Work it out", exact=True).click()
    page.get_by_role("button", name="Cancel").click()
    page.get_by_text("Cancelled: nothing was kept of it.").wait_for(timeout=PATIENCE_MS)


def test_the_page_works_without_script(browser, base_url):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto(f"/year?{ASK}&seconds=19")
    page.locator("#pin [name=pin_bird]").select_option("Moth")
    page.locator("#pin [name=pin_quarters]").select_option("Barn loft")
    page.get_by_role("button", name="Lock and work it out").click()
    again = page.get_by_role("link", name="Look again")
    again.wait_for()
    for _ in range(100):
        if not again.count():
            break
        page.goto(f"{base_url}{again.get_attribute('href')}")
        page.wait_for_timeout(500)
    assert page.locator(".take").is_visible()
    assert page.locator("#pins ~ ul li", has_text="Moth@Barn loft").is_visible()
    context.close()
