"""The colours and strokes of a chart: one sheet for all, and what a dark page changes."""

_FACES = 'system-ui, "Segoe UI", "Helvetica Neue", "DejaVu Sans", Verdana, sans-serif'

_TITLES = 'Charter, "Bitstream Charter", "Iowan Old Style", Georgia, "DejaVu Serif", serif'

LIGHT = f"""
.slope-chart text {{ font-family: {_FACES}; fill: #24221e; }}
.slope-chart .title {{ font-family: {_TITLES}; font-weight: bold; }}
.slope-chart .head {{ font-weight: bold; }}
.slope-chart .quiet {{ fill: #5c5851; }}
.slope-chart path, .slope-chart line {{ fill: none; }}
.slope-chart .paper {{ fill: #ffffff; }}
.slope-chart .fabric {{ fill: #f4f0e7; }}
.slope-chart .fine {{ stroke: #e3ddd0; stroke-width: 0.6; }}
.slope-chart .grid {{ stroke: #cfc8b8; stroke-width: 0.7; }}
.slope-chart .hatch {{ stroke: #8a8377; stroke-width: 0.7; }}
.slope-chart .stepped {{ stroke: #8c3a1f; stroke-width: 1.6; stroke-dasharray: 5 3; }}
.slope-chart .sloped {{ stroke: #0d5a61; stroke-width: 2.6; stroke-linejoin: round; }}
.slope-chart .stepped.thin {{ stroke-width: 0.9; stroke-dasharray: 3 2; }}
.slope-chart .sloped.thin {{ stroke-width: 1.3; }}
.slope-chart .leader, .slope-chart .tick {{ stroke: #8a8377; stroke-width: 0.7; }}
.slope-chart .lead {{ stroke: #a39c8f; stroke-width: 0.8; stroke-dasharray: 1 2.5; }}
.slope-chart .bracket {{ stroke: #5c5851; stroke-width: 0.9; }}
.slope-chart .flag {{ fill: #ffffff; stroke: #24221e; stroke-width: 1; }}
.slope-chart .turn {{ fill: #24221e; stroke: #ffffff; stroke-width: 1; }}
.slope-chart .marker {{ fill: #ffffff; stroke: #24221e; stroke-width: 1.4; }}
.slope-chart .second {{ fill: #24221e; }}
.slope-chart .arrow {{ stroke: #24221e; stroke-width: 1.3; }}
.slope-chart .tip {{ fill: #24221e; }}
.slope-chart .stop {{ stroke: #24221e; stroke-width: 2; }}
.slope-chart .waiting {{ stroke: #5c5851; stroke-width: 1.2; stroke-dasharray: 1 4; }}
.slope-chart .off {{ stroke: #24221e; stroke-width: 1; }}
.slope-chart .held {{ stroke: #24221e; stroke-width: 1; stroke-dasharray: 3 2; }}
"""

DARK = """
@media (prefers-color-scheme: dark) { @media screen {
.slope-chart text { fill: #e7e4dc; }
.slope-chart .quiet { fill: #b4afa5; }
.slope-chart .paper, .slope-chart .flag, .slope-chart .marker { fill: #191a1b; }
.slope-chart .fabric { fill: #26272a; }
.slope-chart .fine { stroke: #35363a; }
.slope-chart .grid { stroke: #4a4b4f; }
.slope-chart .hatch, .slope-chart .lead, .slope-chart .leader, .slope-chart .tick { stroke: #8f8b83; }
.slope-chart .stepped { stroke: #eda184; }
.slope-chart .sloped { stroke: #8fd3d4; }
.slope-chart .bracket, .slope-chart .waiting { stroke: #b4afa5; }
.slope-chart .flag, .slope-chart .marker, .slope-chart .arrow, .slope-chart .stop, .slope-chart .off,
.slope-chart .held { stroke: #e7e4dc; }
.slope-chart .turn { fill: #e7e4dc; stroke: #191a1b; }
.slope-chart .second, .slope-chart .tip { fill: #e7e4dc; }
} }
"""
