"""The script that turns the table, run in a real browser where there is one."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
import shapely

from templategen.drawing.projection import seen_from
from templategen.drawing.scene import scene
from templategen.fit.sight import look, table_bodies
from templategen.output.svg_style import drawing_style
from templategen.output.turn_script import turn_script
from tests.drawing.shipped_tables import plan_of, table_of

SIDE = 400
PAGE = """<!doctype html><meta charset="utf-8"><style>{style} canvas{{width:400px;height:400px}}</style>
<canvas id="c"></canvas><p id="told"></p><script>{script}
const shown = turnTable(c, {scene}); shown.turn({round}, {rise}); shown.light('LEG');
setTimeout(() => {{
  const dots = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
  let inked = 0, left = c.width, right = 0;
  for (let i = 3; i < dots.length; i += 4) if (dots[i]) {{
    const x = (i >> 2) % c.width; inked++; left = Math.min(left, x); right = Math.max(right, x);
  }}
  told.textContent = [c.width, inked, left, right].join(' ');
}}, 300);</script>"""


def test_the_script_is_small_and_stays_at_home() -> None:
    """It is under 10 kB of plain ASCII, reaches for nothing elsewhere and cannot end the element it stands in."""
    text = turn_script()
    assert text.isascii() and len(text) < 10_000
    assert not re.search(r"</script|https?:|fetch\(|import |XMLHttp|eval\(|innerHTML|document\.write", text)
    assert "function turnTable(canvas, scene)" in text


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("chromium") is None, reason="no chromium here")
def test_it_paints_the_shadow_of_the_table(tmp_path: Path) -> None:
    """In a browser the painted share of the canvas is that of the table's shadow as shapely unites it."""
    table = table_of("towpath-side")
    told = json.dumps(scene(table, plan_of("towpath-side")))
    page = tmp_path / "page.html"
    turn = {"round": -1.1, "rise": 0.4}
    page.write_text(PAGE.format(style=drawing_style(), script=turn_script(), scene=told, **turn), encoding="utf-8")
    browser = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=3000", "--dump-dom"]
    shown = subprocess.run([*browser, page.as_uri()], capture_output=True, text=True, check=True, timeout=60).stdout
    found = re.search(r'id="told">(\d+) (\d+) (\d+) (\d+)<', shown)
    assert found is not None
    width, inked, left, right = (int(value) for value in found.groups())
    eye = seen_from(-1.1 * 57.29577951, 0.4 * 57.29577951)
    triangles = look(table_bodies(table, range(len(table.placed))), eye).triangles[:, :, :2]
    shadow = shapely.union_all(shapely.buffer(shapely.polygons(triangles), 1e-4))
    scale = (right - left) / (shadow.bounds[2] - shadow.bounds[0])
    assert width == SIDE
    assert inked == pytest.approx(shadow.area * scale**2, rel=0.03)
