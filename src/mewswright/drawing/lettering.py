"""How wide a line of lettering is, in the drawings' own face.

Widths are thousandths of the type size, taken from the advance table of Source Sans 3
Regular as the package ships it; tests/drawing/test_lettering.py compares them with the
font file. Bold is at most a tenth wider.
"""

# {advance width: characters that have it}
_ADVANCES = {
    200: " ", 241: "|", 246: "i", 247: "j", 249: "',.:;·", 255: "l", 263: "I", 289: "!",
    292: "f", 303: "()[]{}", 311: "-", 331: "°", 338: "t", 347: "r", 350: "/\\", 367: "²³",
    418: "*", 419: "s", 425: "?z", 426: '"', 446: "x", 456: "cç", 467: "vy", 476: "Y",
    480: "J–", 486: "L", 494: "F", 495: "k", 496: "eéèê", 497: "#$+0123456789<=>^~×±≤≥",
    500: "_", 504: "agäà", 513: "X", 515: "V", 527: "E", 534: "S", 536: "T", 539: "Z",
    542: "oöô", 544: "AhuüÄ", 547: "nñ", 553: "b", 555: "dpq", 566: "P", 569: "R", 571: "C",
    576: "ß", 579: "K", 588: "B", 609: "&", 615: "D", 617: "G", 645: "UÜ", 647: "N", 652: "H",
    664: "OQØÖ", 719: "w", 727: "M", 786: "W", 800: "—", 824: "%", 829: "m", 847: "@",
}  # fmt: skip
ADVANCES = {char: width for width, chars in _ADVANCES.items() for char in chars}
_UNLISTED = 700  # a letter of a keeper's own name that is not in the table: assume a wide one
_BOLD = 1.1
# The lettering height is that of a capital with its room above and below, which the
# type size gives: capitals of this face stand 0.66 of it.
CAPITAL = 0.66


def text_width(text: str, height_mm: float, *, bold: bool = False) -> float:
    """Give the width of one line of lettering.

    Args:
        text: The line.
        height_mm: Type size [mm].
        bold: True for the heavy face.

    Returns:
        Width [mm] at that size.
    """
    thousandths = sum(ADVANCES.get(char, _UNLISTED) for char in text)
    return thousandths / 1000 * height_mm * (_BOLD if bold else 1)
