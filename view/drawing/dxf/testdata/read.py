"""Reads the DXF file named first with ezdxf and prints as JSON what is in
it: version, unit, extents, layers, linetypes, what the audit found, and every
entity of model space. This ezdxf leaves %%nnn, a character by its number, as it
is, and decodes \\U+xxxx only when asked; both are done here."""

import json
import re
import sys

import ezdxf

doc = ezdxf.readfile(sys.argv[1])  # not recover, which mends what is wrong
audit = doc.audit()
out = {
    "reader": ezdxf.__version__,
    "version": doc.dxfversion,
    "units": doc.header["$INSUNITS"],
    "measurement": doc.header["$MEASUREMENT"],
    "extent": list(doc.header["$EXTMAX"])[:2],
    "layers": sorted(l.dxf.name for l in doc.layers),
    "linetypes": {l.dxf.name: [t.value for t in l.pattern_tags.tags if t.code == 49] for l in doc.linetypes},
    "errors": [f"{e.code} {e.message}" for e in audit.errors] + [f"fixed: {e.code} {e.message}" for e in audit.fixes],
    "entities": [],
}
for e in doc.modelspace():
    kind = e.dxftype()
    one = {"kind": kind, "layer": e.dxf.layer, "linetype": e.dxf.linetype, "points": []}
    if kind == "LINE":
        one["points"] = [list(e.dxf.start)[:2], list(e.dxf.end)[:2]]
    elif kind == "LWPOLYLINE":
        one["points"] = [[p[0], p[1]] for p in e.get_points()]
        one["closed"] = bool(e.closed)
    elif kind == "CIRCLE":
        one["points"] = [list(e.dxf.center)[:2]]
        one["radius"] = e.dxf.radius
    elif kind == "ARC":
        one["points"] = [list(e.dxf.center)[:2], list(e.start_point)[:2], list(e.end_point)[:2]]
        one["radius"] = e.dxf.radius
    elif kind == "SOLID":
        one["points"] = [list(p)[:2] for p in (e.dxf.vtx0, e.dxf.vtx1, e.dxf.vtx2)]
    elif kind == "TEXT":
        one["points"] = [list(e.dxf.insert)[:2]]
        one["raw"] = e.dxf.text
        one["text"] = re.sub("%%([0-9]{3})", lambda m: chr(int(m[1])), ezdxf.decode_dxf_unicode(e.plain_text()))
        one["height"] = e.dxf.height
        one["angle"] = e.dxf.rotation
    else:
        one["text"] = "not foreseen"
    out["entities"].append(one)
json.dump(out, sys.stdout)
