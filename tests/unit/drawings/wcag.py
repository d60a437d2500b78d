"""Contrast of two colours as WCAG 2.2 defines it ("relative luminance" and "contrast ratio")."""


def _luminance(colour: str) -> float:
    def linear(value: int) -> float:
        share = value / 255
        return share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[start : start + 2], 16)) for start in (0, 2, 4))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours written `rrggbb`, from 1 to 21."""
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)
