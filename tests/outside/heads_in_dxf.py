#!/usr/bin/python3
"""Invented heads drawn by another program's library (ezdxf, Debian's python3-ezdxf) in every version of the format it
writes, as text and as binary, with what they truly are beside them:

    heads_in_dxf.py FOLDER    writes *.dxf and truth.json there

truth.json: a list of {file, arguments, valves: [[x, y, kind, bore, gauge, lean, [incline, cant] | null]], bolts: [[x, y]],
bolt_diameter, plugs, cylinders} in mm and degrees, in the head frame (origin: the first cylinder's centre).
"""
import json
import math
import sys
from pathlib import Path

import ezdxf
from ezdxf.enums import InsertUnits

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
INCH = 25.4


class Sheet:
    """A drawing: places on it are given in the head frame, mm."""

    def __init__(self, version, unit=1.0, insunits=InsertUnits.Millimeters, turn=0.0, at=(0.0, 0.0)):
        self.doc = ezdxf.new(version)
        self.r12 = version == "R12"
        if not self.r12:
            self.doc.header["$INSUNITS"] = int(insunits)
        self.unit, self.turn, self.at = unit, turn, at
        self.msp = self.doc.modelspace()

    def place(self, x, y):
        c, s = math.cos(self.turn), math.sin(self.turn)
        return ((c * x - s * y + self.at[0]) / self.unit, (s * x + c * y + self.at[1]) / self.unit)

    def circle(self, x, y, d, layer="0", how="circle", into=None):
        (px, py), r = self.place(x, y), d / 2 / self.unit
        space = into if into is not None else self.msp
        attribs = {"layer": layer}
        if how == "circle":
            space.add_circle((px, py), r, dxfattribs=attribs)
        elif how == "arcs":
            for k in range(3):
                space.add_arc((px, py), r, 120 * k + 10, 120 * k + 130, dxfattribs=attribs)
        elif how == "bulges":
            points = [(px - r, py, 1.0), (px + r, py, 1.0)]
            if self.r12:
                line = space.add_polyline2d([p[:2] for p in points], dxfattribs=attribs)
                line.close(True)
                for vertex in line.vertices:
                    vertex.dxf.bulge = 1.0
            else:
                space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attribs)
        elif how == "mirrored":
            # In a plane turned over: its own X runs the other way.
            space.add_circle((-px, py), r, dxfattribs={**attribs, "extrusion": (0, 0, -1)})
        elif how == "ellipse":
            space.add_ellipse((px, py), (r, 0), 1.0, dxfattribs=attribs)

    def leaning(self, x, y, d, incline, cant, layer="0"):
        """A circle about an axis that leans, as it is seen from above."""
        t = math.hypot(math.tan(incline), math.tan(cant))
        way = (math.tan(cant) / t, math.tan(incline) / t)
        c, s = math.cos(self.turn), math.sin(self.turn)
        r = d / 2 / self.unit
        major = (-way[1], way[0])
        major = ((c * major[0] - s * major[1]) * r, (s * major[0] + c * major[1]) * r)
        self.msp.add_ellipse(self.place(x, y), major, math.cos(math.atan(t)), dxfattribs={"layer": layer})

    def layer(self, name, frozen=False, off=False):
        layer = self.doc.layers.new(name)
        if frozen:
            layer.freeze()
        if off:
            layer.off()
        return name


def truth(file, arguments, valves, bolts, bolt_diameter, plugs, cylinders):
    first = [sum(v[k] for v in valves if v[-1] == 1) / sum(1 for v in valves if v[-1] == 1) for k in (0, 1)]
    return {"file": file, "arguments": arguments, "cylinders": cylinders, "bolt_diameter": bolt_diameter,
            "valves": [[v[0] - first[0], v[1] - first[1], *v[2:-1]] for v in valves],
            "bolts": [[x - first[0], y - first[1]] for x, y in bolts],
            "plugs": [[x - first[0], y - first[1]] for x, y in plugs]}


def pent_roof(sheet, hows):
    """Four cylinders, four valves each, bores and plugs drawn; every kind of circle there is."""
    valves, n = [], 0
    for k in range(4):
        x = 88.1 * k
        for dx, y, kind, bore, seat in ((-17.25, 16.4, "intake", 6.0, 31.2), (17.25, 16.4, "intake", 6.0, 31.2),
                                        (-15.5, -16.75, "exhaust", 6.0, 27.4), (15.5, -16.75, "exhaust", 6.0, 27.4)):
            how = hows[n % len(hows)]
            n += 1
            sheet.circle(x + dx, y, bore, how=how)
            sheet.circle(x + dx, y, seat, how=how)
            valves.append([x + dx, y, kind, bore, seat, None, None, k + 1])
        sheet.circle(x, 0, 81.0)
    bolts = [(88.1 * (k - 0.5), side * 46.2) for side in (-1, 1) for k in range(5)]
    for n, (x, y) in enumerate(bolts):
        sheet.circle(x, y, 11.3, how=hows[n % len(hows)])
    plugs = [(88.1 * k, 0.8) for k in range(4)]
    for x, y in plugs:
        sheet.circle(x, y, 12.5)
    for x in (-60, 330):  # something else: two odd holes
        sheet.circle(x, 5, 9.1)
    shift = [0.0, 0.0]
    # The bore's centre is the origin where bores are drawn.
    return [[*v] for v in valves], bolts, 11.3, plugs, shift


def wedge(sheet, hows):
    """Four cylinders, two valves each in one row, every second cylinder the other way round."""
    valves = []
    for k in range(4):
        for dx, kind, seat in ((-22.5, "exhaust", 36.6), (22.0, "intake", 44.45)):
            x = 101.6 * k + (dx if k % 2 == 0 else -dx)
            y = 3.1 if kind == "intake" else -2.2
            for d in (8.7, seat - 2.5, seat):
                sheet.circle(x, y, d, how=hows[k % len(hows)])
            valves.append([x, y, kind, 8.7, seat - 1.25, None, None, k + 1])
    bolts = [(101.6 * (k - 0.5), side * 50.8) for side in (-1, 1) for k in range(5)]
    for x, y in bolts:
        sheet.circle(x, y, 12.7)
        sheet.circle(x, y, 20.6)  # its counterbore
    return valves, bolts, 12.7, []


def hemispherical(sheet):
    """Three cylinders whose valves lean either way; the guides drawn beside their seats, deeper in the casting."""
    valves = []
    for k in range(3):
        for y, kind, seat, incline, cant in ((21.3, "intake", 46.5, -24.0, 2.5), (-22.7, "exhaust", 40.5, 26.5, -3.0)):
            x = 104.0 * k + (3.0 if kind == "intake" else -3.0)
            i, c = math.radians(incline), math.radians(cant)
            sheet.leaning(x, y, seat, i, c)
            deep = 31.0
            sheet.leaning(x - deep * math.tan(c), y - deep * math.tan(i), 8.0, i, c)
            lean = math.degrees(math.atan(math.hypot(math.tan(i), math.tan(c))))
            valves.append([x, y, kind, 8.0, seat, lean, [incline, cant], k + 1])
    bolts = [(104.0 * (k - 0.5), side * 55.0) for side in (-1, 1) for k in range(4)]
    for x, y in bolts:
        sheet.circle(x, y, 13.0)
    return valves, bolts, 13.0, []


def in_blocks(sheet):
    """Two cylinders of blocks within blocks, scaled, turned over and by halves, a row of bolts as one insert."""
    doc, u = sheet.doc, sheet.unit
    valve = doc.blocks.new("VALVE", base_point=(5 / u, 7 / u))
    for d in (0.2, 1.0):  # of a valve of 1 mm
        valve.add_circle((5 / u, 7 / u), d / 2 / u)
    pair = doc.blocks.new("PAIR")
    pair.add_blockref("VALVE", (-20.4 / u, 2.2 / u), dxfattribs={"xscale": 38.0, "yscale": 38.0})
    pair.add_blockref("VALVE", (19.6 / u, -1.4 / u), dxfattribs={"xscale": 33.0, "yscale": 33.0})
    for k, flip in ((0, 1), (1, -1)):
        sheet.msp.add_blockref("PAIR", sheet.place(96.0 * k, 0),
                               dxfattribs={"xscale": flip, "rotation": math.degrees(sheet.turn)})
    bolt = doc.blocks.new("BOLT")
    bolt.add_circle((0, 0), 5.5 / u)
    for side in (-1, 1):
        sheet.msp.add_blockref("BOLT", sheet.place(-48.0, 44.0 * side),
                               dxfattribs={"column_count": 3, "column_spacing": 96.0 / u, "row_count": 1,
                                           "rotation": math.degrees(sheet.turn)})
    valves = []
    for k, flip in ((0, 1), (1, -1)):
        valves.append([96.0 * k - 20.4 * flip, 2.2, "intake", 7.6, 38.0, None, None, k + 1])
        valves.append([96.0 * k + 19.6 * flip, -1.4, "exhaust", 6.6, 33.0, None, None, k + 1])
    bolts = [(48.0 * (2 * k - 1), side * 44.0) for side in (-1, 1) for k in range(3)]
    return valves, bolts, 11.0, []


def junk(sheet):
    """What must not be seen: layers frozen and off, paper space, text and lines."""
    frozen, off = sheet.layer("OLD", frozen=True), sheet.layer("HIDDEN", off=True)
    for k in range(6):
        sheet.circle(20.0 * k, 3, 8, layer=frozen)
        sheet.circle(20.0 * k, 3, 40, layer=frozen)
        sheet.circle(15.0 * k, -9, 44, layer=off)
    sheet.msp.add_line((0, 0), (100, 100))
    sheet.msp.add_text("deck")
    paper = sheet.doc.layout("Layout1")
    for k in range(4):
        paper.add_circle((30 * k, 12), 4)
        paper.add_circle((30 * k, 12), 20)


def main():
    folder = Path(sys.argv[1])
    out = []

    def keep(name, sheet, made, arguments=""):
        valves, bolts, diameter, plugs = made[:4]
        cylinders = max(v[-1] for v in valves)
        for suffix, fmt in (("", "asc"), ("-binary", "bin")):
            file = f"{name}{suffix}.dxf"
            sheet.doc.saveas(folder / file, fmt=fmt)
            if len(made) > 4:  # bores are drawn: their centre is the origin
                t = truth(file, arguments, valves, bolts, diameter, plugs, cylinders)
                mean = [sum(v[k] for v in valves if v[-1] == 1) / 4 for k in (0, 1)]
                for key in ("valves", "bolts", "plugs"):
                    t[key] = [[p[0] + mean[0], p[1] + mean[1], *p[2:]] for p in t[key]]
            else:
                t = truth(file, arguments, valves, bolts, diameter, plugs, cylinders)
            out.append(t)

    for version in VERSIONS:
        r12 = version == "R12"
        ask = "--units mm" if r12 else ""
        hows = ["circle", "arcs", "bulges", "mirrored"] + ([] if r12 else ["ellipse"])
        sheet = Sheet(version)
        made = pent_roof(sheet, hows)
        junk(sheet)
        keep(f"pent-roof-{version}", sheet, made, ask)
        sheet = Sheet(version, unit=INCH, insunits=InsertUnits.Inches, at=(812.3, -77.7))
        keep(f"wedge-{version}", sheet, wedge(sheet, hows), "--units in" if r12 else "")
        sheet = Sheet(version, unit=10.0, insunits=InsertUnits.Centimeters, turn=math.radians(37), at=(40, 900))
        if not r12:  # that version has no ellipses
            keep(f"hemispherical-{version}", sheet, hemispherical(sheet))
        sheet = Sheet(version, turn=math.radians(-90), at=(-30, 20))
        made = in_blocks(sheet)
        # Upright on the sheet: the row runs up it, so the head lies turned end for end.
        turned = [[[-p[0] + 96.0, -p[1], *p[2:]] for p in part] for part in (made[0], made[1])]
        for v in turned[0]:
            v[-1] = 3 - v[-1]
        keep(f"blocks-{version}", sheet, (turned[0], turned[1], made[2], made[3]), ask)
    (folder / "truth.json").write_text(json.dumps(out))


main()
