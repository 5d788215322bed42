"""Tiles real footprints to a neighbourhood of any size, as a GeoPackage. Needs nothing but Python.

    python neighbourhood_tiles.py bubenec.gpkg 10000 neighbourhood-10000.gpkg

The footprints, plots and streets are those of the Python package momepy 0.11.0 (BSD-3-Clause), file
momepy/datasets/bubenec.gpkg; how to get it is said at the head of tests/published/tests/real_footprints.rs.
Tiles are laid in rows, the smallest number of whole ones that holds so many lots. Between two tiles lies more
than the reach of a street, so that the lots of a tile have the streets of that tile only. The row `fid` of the
tile `n` is the row `n * 1000 + fid` of what is written. The same input gives the same rows every time.
"""

import math
import sqlite3
import struct
import sys

LAYERS = {"plots": "POLYGON", "buildings": "POLYGON", "streets": "LINESTRING"}
# Web Mercator metres, about 64 m on the ground where the footprints are; a street reaches 80 ft, about 24 m.
BETWEEN = 100.0
ROOM = 1000


def shapes(db, table):
    """Each row as its number and its lines or rings, flat lists of x and y."""
    found = []
    for fid, blob in db.execute(f"select fid, geom from {table} order by fid"):
        # The header holds an envelope of a size that its flags tell; plain little-endian WKB follows.
        at = 8 + {0: 0, 1: 32, 2: 48, 3: 48, 4: 64}[(blob[3] >> 1) & 7]
        order, kind = struct.unpack_from("<BI", blob, at)
        if order != 1 or kind not in (2, 3) or not 0 < fid < ROOM:
            raise SystemExit(f"row {fid} of {table} is not as expected")
        at, count = at + 5, 1
        if kind == 3:
            (count,) = struct.unpack_from("<I", blob, at)
            at += 4
        rings = []
        for _ in range(count):
            (places,) = struct.unpack_from("<I", blob, at)
            rings.append(struct.unpack_from(f"<{2 * places}d", blob, at + 4))
            at += 4 + 16 * places
        found.append((fid, kind, rings))
    return found


def written(kind, rings, east, north):
    """A shape moved by so much, as a GeoPackage blob without an envelope."""
    out = [b"GP\x00\x01", struct.pack("<iBI", 3857, 1, kind)]
    if kind == 3:
        out.append(struct.pack("<I", len(rings)))
    for ring in rings:
        moved = [number + (north if place % 2 else east) for place, number in enumerate(ring)]
        out.append(struct.pack(f"<I{len(moved)}d", len(moved) // 2, *moved))
    return b"".join(out)


def main():
    source, lots, target = sys.argv[1], int(sys.argv[2]), sys.argv[3]
    db = sqlite3.connect(source)
    layers = {table: shapes(db, table) for table in LAYERS}
    flat = [ring for layer in layers.values() for _, _, rings in layer for ring in rings]
    wide = max(max(ring[0::2]) for ring in flat) - min(min(ring[0::2]) for ring in flat) + BETWEEN
    high = max(max(ring[1::2]) for ring in flat) - min(min(ring[1::2]) for ring in flat) + BETWEEN
    tiles = math.ceil(lots / len(layers["plots"]))
    columns = math.ceil(math.sqrt(tiles))

    open(target, "wb").close()
    out = sqlite3.connect(target)
    for table in ("gpkg_spatial_ref_sys", "gpkg_contents", "gpkg_geometry_columns"):
        (sql,) = db.execute("select sql from sqlite_master where name = ?", (table,)).fetchone()
        out.execute(sql)
        rows = db.execute(f"select * from {table}").fetchall()
        if table != "gpkg_spatial_ref_sys":
            rows = [row for row in rows if row[0] in LAYERS]
        out.executemany(f"insert into {table} values ({','.join('?' * len(rows[0]))})", rows)
    for table, shape in LAYERS.items():
        out.execute(f"create table {table} (fid integer primary key not null, geom {shape})")
        out.executemany(
            f"insert into {table} values (?, ?)",
            (
                (tile * ROOM + fid, written(kind, rings, tile % columns * wide, tile // columns * high))
                for tile in range(tiles)
                for fid, kind, rings in layers[table]
            ),
        )
    out.execute("update gpkg_contents set min_x = null, min_y = null, max_x = null, max_y = null")
    out.commit()
    counts = ", ".join(f"{tiles * len(layers[table])} {table}" for table in LAYERS)
    print(f"{target}: {tiles} tiles, {counts}")


main()
