"""The contrasts of every ground, by WCAG, against the levels that the display rules ask for."""

import pytest

from station.core.state import Priority
from station.panels.palette import GROUNDS, PALETTES, Palette, contrast, palette_of
from station.present.looks import Mode

EVERY = [pytest.param(palette, id=f"{mode}-{ground}") for (mode, ground), palette in PALETTES.items()]


def test_the_formula_gives_the_published_ends():
    """Black on white is 21, a colour on itself 1; the two computed traps of the day ground are reproduced."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#8F7C5B", "#8F7C5B") == pytest.approx(1.0)
    assert contrast("#F7D548", "#D9D9D9") == pytest.approx(1.02, abs=0.01)
    assert contrast("#D97800", "#D9D9D9") == pytest.approx(2.2, abs=0.05)


def test_every_mode_has_every_ground():
    """Day, dusk and night for live, rehearsal and replay: nine palettes, no two with one ground."""
    assert set(PALETTES) == {(mode, ground) for mode in Mode for ground in GROUNDS}
    assert len({palette.ground for palette in PALETTES.values()}) == len(PALETTES)


@pytest.mark.parametrize("palette", EVERY)
def test_values_and_words_are_readable(palette: Palette):
    """Values 7:1 on ground, captions 4.5:1, values on water and on keys 6:1, scales 3:1."""
    assert contrast(palette.ink, palette.ground) >= 7.0
    assert contrast(palette.ink2, palette.ground) >= 4.5
    assert contrast(palette.ink, palette.water) >= 6.0
    assert contrast(palette.ink, palette.key) >= 6.0
    assert contrast(palette.ink2, palette.key) >= 4.5
    assert contrast(palette.rule, palette.ground) >= 3.0


@pytest.mark.parametrize("palette", EVERY)
def test_the_words_of_a_turned_banner_are_readable(palette: Palette):
    """Ground on ink and water on ink, as the banner of a rehearsal or a replay has them, 4.5:1."""
    assert contrast(palette.ground, palette.ink) >= 7.0
    assert contrast(palette.water, palette.ink) >= 4.5


@pytest.mark.parametrize("palette", EVERY)
@pytest.mark.parametrize("priority", list(Priority))
def test_an_alarm_is_readable_and_seen(palette: Palette, priority: Priority):
    """Alarm words 4.5:1 on their colour; the mark 3:1 on the ground, or outlined with something that is."""
    assert contrast(palette.text_on(priority), palette.fill_of(priority)) >= 4.5
    outline = palette.outline_of(priority)
    seen = contrast(palette.fill_of(priority), palette.ground)
    assert seen >= 3.0 or (outline is not None and contrast(outline, palette.ground) >= 3.0)


@pytest.mark.parametrize("ground", GROUNDS)
def test_what_is_not_live_stands_on_another_ground(ground: str):
    """A rehearsal and a replay have their own paper and a banner; a live watch has neither."""
    live = palette_of(Mode.LIVE, ground)
    assert not live.banner
    for mode in (Mode.REHEARSAL, Mode.REPLAY):
        assert palette_of(mode, ground).banner
        assert palette_of(mode, ground).ground != live.ground


def test_an_unknown_ground_is_refused():
    """A ground that there is not is no key of the palettes."""
    with pytest.raises(KeyError):
        palette_of(Mode.LIVE, "noon")
