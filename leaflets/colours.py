"""Contrast of colours, and a colour that can be read on a dark ground. Colours are `#rrggbb`."""


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, contrast ratio).

    >>> round(contrast("#000000", "#ffffff"), 1), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)

    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def lightened(colour: str, ground: str, least: float) -> str:
    """Return a colour mixed with as little white as gives it a contrast on a dark ground.

    `least`: the contrast ratio wanted, at most that of white on the ground.

    >>> lightened("#ffffff", "#000000", 7.0)
    '#ffffff'

    """
    parts = _parts(colour)
    for hundredths in range(101):
        mixed = [round(part + (255 - part) * hundredths / 100) for part in parts]
        found = "#{:02x}{:02x}{:02x}".format(*mixed)
        if contrast(found, ground) >= least:
            return found
    raise ValueError(f"white itself has too little contrast on {ground}")


def darkened(colour: str, ground: str, least: float) -> str:
    """Return a colour mixed with as little black as gives it a contrast on a light ground; as it is where it has that.

    `least`: the contrast ratio wanted, at most that of black on the ground.

    >>> darkened("#24504a", "#ffffff", 4.5), darkened("#ffee00", "#ffffff", 4.5)
    ('#24504a', '#807700')

    """
    parts = _parts(colour)
    for hundredths in range(101):
        mixed = [round(part * (100 - hundredths) / 100) for part in parts]
        found = "#{:02x}{:02x}{:02x}".format(*mixed)
        if contrast(found, ground) >= least:
            return found
    raise ValueError(f"black itself has too little contrast on {ground}")


def _parts(colour: str) -> list[int]:
    return [int(colour[start : start + 2], 16) for start in (1, 3, 5)]


def _luminance(colour: str) -> float:
    """Return the relative luminance (WCAG 2.2)."""
    shares = (part / 255 for part in _parts(colour))
    red, green, blue = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
