"""The measurements of a neighbourhood by a vectorised Shapely script, side by side with a review of the same file.

    pip install shapely==2.1.2 pyproj==3.7.2 numpy
    python neighbourhood.py neighbourhood.gpkg [--rows measured.json] [--times]

It reads the file, lays it on a local plane, proposes the roles of lot lines by the definition printed at the head of
core/formats/src/roles/mod.rs, and measures what the pack neighbourhood.toml asks: yards, separations on one lot,
shares of lots that roofs cover, and what is between buildings that all but touch. All of it in arrays, with spatial
indexes, as one would who cares for speed; it gives no verdict, knows nothing of accuracy and writes no report.
"""

import json
import math
import sqlite3
import sys
import time

import numpy as np
import shapely
from pyproj import Transformer

REACH = 80 * 0.3048
NEAR, CLOSE = 10 * 0.3048, 0.3048
JOG, LEAST_FRONTAGE, THROUGH, SLIVER = 1.0, 6.0, 10.0, 0.5
COS20, COS45 = math.cos(math.radians(20)), math.sqrt(0.5)
UNKNOWN, SIDE, STREET_SIDE, FRONT, REAR = range(5)
NAMES = {FRONT: "front", SIDE: "side", REAR: "rear", STREET_SIDE: "street_side"}
HEADERS = {0: 8, 1: 40, 2: 56, 3: 56, 4: 72}


def layer(db, table):
    rows = db.execute(f"select fid, geom from {table} order by fid").fetchall()
    blobs = [blob[HEADERS[(blob[3] >> 1) & 7]:] for _, blob in rows]
    return np.array([fid for fid, _ in rows]), shapely.from_wkb(blobs)


def on_a_plane(*layers):
    """Web Mercator to an azimuthal equidistant plane at the middle of everything."""
    west, south, east, north = shapely.total_bounds(np.concatenate(layers))
    middle = ((west + east) / 2, (south + north) / 2)
    lon, lat = Transformer.from_crs(3857, 4326, always_xy=True).transform(*middle)
    local = Transformer.from_crs(3857, f"+proj=aeqd +lat_0={lat} +lon_0={lon} +ellps=WGS84", always_xy=True)
    place = lambda xy: np.column_stack(local.transform(xy[:, 0], xy[:, 1]))
    return [shapely.transform(shapes, place) for shapes in layers]


def unit(vectors):
    return vectors / np.hypot(vectors[:, 0], vectors[:, 1])[:, None]


def dot(a, b):
    return np.einsum("ij,ij->i", a, b)


class Sides:
    """The sides of all lots one after the other, lot by lot in ring order."""

    def __init__(self, plots):
        rings = shapely.get_exterior_ring(plots)
        turned = ~shapely.is_ccw(rings)
        rings = np.where(turned, shapely.reverse(rings), rings)
        xy, ring = shapely.get_coordinates(rings, return_index=True)
        keep = np.append(ring[1:] == ring[:-1], False)  # without the place that closes the ring
        keep &= np.append(np.any(xy[1:] != xy[:-1], axis=1), False)  # nor places said twice
        xy, ring = xy[keep], ring[keep]
        first = np.searchsorted(ring, np.arange(len(plots)))
        count = np.diff(np.append(first, len(ring)))
        at = np.arange(len(ring)) - first[ring]
        way = unit(xy[first[ring] + (at + 1) % count[ring]] - xy)
        before = way[first[ring] + (at - 1) % count[ring]]
        sharp = dot(before, way) < COS20
        # Each ring from its first sharp corner on.
        lead = np.full(len(plots), len(ring))
        np.minimum.at(lead, ring[sharp], at[sharp])
        lead[lead == len(ring)] = 0
        order = first[ring] + (at + lead[ring]) % count[ring]
        xy, way, starts = xy[order], way[order], sharp[order]
        starts[first] = True
        # A curve is cut where it has come 45 degrees round; then what is left of it, until nothing is cut.
        while True:
            side = np.cumsum(starts) - 1
            opening = np.flatnonzero(starts)
            round_ = np.flatnonzero(dot(way[opening][side], way) < COS45)
            if not len(round_):
                break
            _, earliest = np.unique(side[round_], return_index=True)
            starts[round_[earliest]] = True

        self.lot = ring[opening]
        ends = np.append(opening[1:], len(ring))
        closing = np.where(ends < np.append(first[1:], len(ring))[self.lot], ends, first[self.lot])
        # The places of a side are those of its edges and the first of the next side.
        places = ends - opening + 1
        owner = np.repeat(np.arange(len(opening)), places)
        step = np.arange(len(owner)) - np.repeat(np.cumsum(places) - places, places)
        index = np.where(step < (places - 1)[owner], opening[owner] + step, closing[owner])
        self.lines = shapely.linestrings(xy[index], indices=owner)
        self.length = shapely.length(self.lines)
        chord = unit(xy[closing] - xy[opening])
        self.out = np.column_stack((chord[:, 1], -chord[:, 0]))
        self.long = self.length >= JOG
        # The corners from which and to which a side runs, as numbered in the file.
        of = self.lot
        number = lambda place: (at[order[place]] * np.where(turned[of], -1, 1)) % count[of]
        ends_at = (number(opening), number(closing))
        self.corners = np.where(turned[of], ends_at[::-1], ends_at).T
        self.edge_from, self.edge_side, self.edges_of = xy, side, np.append(first, len(ring))
        last = self.edges_of[1:] - 1
        self.edge_to = np.roll(xy, -1, axis=0)
        self.edge_to[last] = xy[first]


def facing(sides, long, plots, streets):
    """The street that each long side faces, -1 for none."""
    tree, lots = shapely.STRtree(streets), shapely.STRtree(plots)
    places = [shapely.line_interpolate_point(sides.lines[long], share, normalized=True) for share in (0.25, 0.5, 0.75)]
    at = np.concatenate(places)
    out = np.tile(sides.out[long], (3, 1))
    place, street = tree.query(at, predicate="dwithin", distance=REACH)
    sights = shapely.shortest_line(at[place], streets[street])
    ends = shapely.get_coordinates(sights).reshape(-1, 2, 2)
    way = ends[:, 1] - ends[:, 0]
    away = np.hypot(way[:, 0], way[:, 1])
    square = dot(way, out[place]) >= 0.5 * away
    place, street, sights, away = place[square], street[square], sights[square], away[square]
    sight, lot = lots.query(sights, predicate="intersects")
    inside = shapely.length(shapely.intersection(sights[sight], plots[lot]))
    clear = np.ones(len(sights), bool)
    clear[sight[inside > SLIVER]] = False
    place, street, away = place[clear], street[clear], away[clear]
    order = np.lexsort((street, away, place))
    place, earliest = np.unique(place[order], return_index=True)
    seen = np.full(3 * len(long), -1)
    seen[place] = street[order][earliest]
    seen = seen.reshape(3, -1)
    sees = seen >= 0
    return np.where(sees.sum(axis=0) >= 2, seen[np.argmax(sees, axis=0), np.arange(len(long))], -1)


def fronts(sides, long, faces, lots):
    """The front and the other street sides of each lot, as labels of frontages; which label is the front."""
    lot, out, length = sides.lot[long], sides.out[long], sides.length[long]
    first = np.searchsorted(lot, np.arange(lots))
    last = np.append(first[1:], len(lot)) - 1
    before = np.arange(len(lot)) - 1
    before[first[lot] == np.arange(len(lot))] = last[lot[first[lot] == np.arange(len(lot))]]
    joined = (faces >= 0) & (faces[before] >= 0) & (dot(out, out[before]) > COS45)
    opens = (faces >= 0) & ~joined
    # A frontage that runs past the first side of the ring belongs to the last one that opens.
    label = np.cumsum(opens)
    so_far = label - np.where(first > 0, label[first - 1], 0)[lot]
    label = np.where(so_far > 0, label, label[last][lot])
    none_opens = ~np.isin(np.arange(lots), lot[opens])
    label = np.where(none_opens[lot], label[-1] + 1 + lot, label)
    street = faces >= 0
    size = np.bincount(label[street], weights=length[street], minlength=label.max() + 1 if len(label) else 0)
    labels, at = np.unique(label[street], return_index=True)
    owner, size = lot[street][at], size[labels]
    # Of those wide enough the shortest, else the longest.
    narrow = size < LEAST_FRONTAGE
    order = np.lexsort((np.where(narrow, -size, size), narrow, owner))
    with_front, best = np.unique(owner[order], return_index=True)
    front = np.full(lots, -1)
    front[with_front] = labels[order][best]
    return street & (label == front[lot]), street, np.bincount(owner, minlength=lots)


def roles(plots, streets):
    sides = Sides(plots)
    lots = len(plots)
    tree = shapely.STRtree(streets)
    lot, street = tree.query(plots, predicate="intersects")
    inside = shapely.length(shapely.intersection(plots[lot], streets[street]))
    land = np.bincount(lot, weights=inside, minlength=lots) > THROUGH
    long = np.flatnonzero(sides.long & ~land[sides.lot])
    faces = facing(sides, long, plots, streets)
    front, street, frontages = fronts(sides, long, faces, lots)
    owner, out, length = sides.lot[long], sides.out[long], sides.length[long]
    known = frontages > 0

    role = np.where(front, FRONT, np.where(street, STREET_SIDE, SIDE))
    weigh = lambda axis: np.bincount(owner[front], weights=(out[front, axis] * length[front]), minlength=lots)
    with np.errstate(invalid="ignore"):
        outward = unit(np.column_stack((weigh(0), weigh(1))))
    middle = shapely.get_coordinates(shapely.line_interpolate_point(sides.lines[long], 0.5, normalized=True))
    order = np.lexsort((-length, ~front, owner))
    with_sides, longest = np.unique(owner[order], return_index=True)
    origin = np.zeros((lots, 2))
    origin[with_sides] = middle[order[longest]]
    depth = -dot(middle - origin[owner], outward[owner])
    opposed = known[owner] & (faces < 0) & (dot(out, outward[owner]) <= -COS45)
    deepest = np.zeros(lots)
    np.maximum.at(deepest, owner[opposed], depth[opposed])
    role[opposed & (depth > 0) & (depth >= deepest[owner] / 2)] = REAR

    every = np.full(len(sides.lot), UNKNOWN)
    every[long] = role
    # A jog takes the role of the longer of its nearest long neighbours.
    short = np.flatnonzero(~sides.long)
    first = np.searchsorted(owner, np.arange(lots))
    count = np.bincount(owner, minlength=lots)
    short = short[count[sides.lot[short]] > 0]
    of = sides.lot[short]
    rank = np.searchsorted(long, short) - first[of]
    after = long[first[of] + rank % count[of]]
    prior = long[first[of] + (rank - 1) % count[of]]
    every[short] = every[np.where(sides.length[after] > sides.length[prior], after, prior)]
    every[~known[sides.lot]] = UNKNOWN
    kinds = {
        "land": int(land.sum()),
        "unknown": int((~land & ~known).sum()),
        "corner": int((frontages > 1).sum()),
        "plain": int((frontages == 1).sum()),
    }
    return sides, every, kinds


def assign(buildings, plots):
    """The lot that holds the most of each building, -1 for none."""
    building, lot = shapely.STRtree(plots).query(buildings, predicate="intersects")
    shared = shapely.area(shapely.intersection(buildings[building], plots[lot]))
    order = np.lexsort((lot, -shared, building))
    building, best = np.unique(building[order], return_index=True)
    held = np.full(len(buildings), -1)
    held[building] = np.where(shared[order][best] > 0, lot[order][best], -1)
    return held


def runs(first, count):
    """Every place of several runs of an array, with the run it is of."""
    run = np.repeat(np.arange(len(count)), count)
    return np.arange(len(run)) - np.repeat(np.cumsum(count) - count, count) + first[run], run


def yards(buildings, held, plots, sides, role):
    """Each building to each line of its lot: building, side, distance; below zero by how far it reaches beyond."""
    first = np.searchsorted(sides.lot, np.arange(len(plots) + 1))
    on = np.flatnonzero(held >= 0)
    side, run = runs(first[held[on]], np.diff(first)[held[on]])
    building = on[run]
    with_role = role[side] != UNKNOWN
    building, side = building[with_role], side[with_role]
    away = shapely.distance(buildings[building], sides.lines[side])

    # A corner outside of the lot is beyond the line that is the nearest to it, square to the line.
    corners, owner = shapely.get_coordinates(buildings, return_index=True)
    lot = held[owner]
    outside = lot >= 0
    outside[outside] = ~shapely.intersects_xy(plots[lot[outside]], *corners[outside].T)
    corners, owner, lot = corners[outside], owner[outside], lot[outside]
    if not len(owner):
        return building, side, away
    edge, corner = runs(sides.edges_of[lot], np.diff(sides.edges_of)[lot])
    start, way = sides.edge_from[edge], sides.edge_to[edge] - sides.edge_from[edge]
    at = corners[corner] - start
    square = dot(way, way)
    place = np.clip(dot(at, way) / square, 0, 1)
    off = np.hypot(*(at - place[:, None] * way).T)
    least = np.minimum.reduceat(off, np.flatnonzero(np.append(True, corner[1:] != corner[:-1])))
    near = off <= least[corner] * (1 + 1e-12)
    depth = (way[:, 0] * at[:, 1] - way[:, 1] * at[:, 0])[near] / np.sqrt(square[near])
    corner, edge, off = corner[near], edge[near], off[near]
    order = np.lexsort((edge, off, sides.edge_side[edge], corner))
    _, best = np.unique(
        np.column_stack((corner, sides.edge_side[edge]))[order], axis=0, return_index=True
    )
    best = order[best]
    best = best[depth[best] < 0]
    # Of all corners beyond one line the farthest.
    key = owner[corner[best]] * len(sides.lot) + sides.edge_side[edge[best]]
    order = np.lexsort((depth[best], key))
    key, deepest = np.unique(key[order], return_index=True)
    wanted = building * len(sides.lot) + side
    where = np.minimum(np.searchsorted(key, wanted), len(key) - 1)
    beyond = key[where] == wanted
    away[beyond] = depth[best][order][deepest][where[beyond]]
    return building, side, away


def separations(buildings, held):
    a, b = shapely.STRtree(buildings).query(buildings, predicate="dwithin", distance=NEAR)
    kept = (a < b) & (held[a] >= 0) & (held[a] == held[b])
    a, b = a[kept], b[kept]
    return a, b, shapely.distance(buildings[a], buildings[b])


def covered(plots, buildings):
    """The share of each lot that stands under roofs, wherever most of a building stands."""
    lot, building = shapely.STRtree(buildings).query(plots, predicate="intersects")
    pieces = shapely.intersection(plots[lot], buildings[building])
    first = np.searchsorted(lot, np.arange(len(plots) + 1))
    count = np.diff(first)
    area = np.bincount(lot, weights=shapely.area(pieces), minlength=len(plots))
    several = np.flatnonzero(count > 1)
    table = np.full((len(several), count.max(initial=1)), None, dtype=object)
    row = np.repeat(np.arange(len(several)), count[several])
    of = np.isin(lot, several)
    table[row, np.arange(of.sum()) - np.repeat(np.cumsum(count[several]) - count[several], count[several])] = pieces[of]
    area[several] = shapely.area(shapely.union_all(table, axis=1))
    return area / shapely.area(plots)


def overlaps(buildings):
    """Buildings within a foot of each other on any lot, both ways round: the gap and the area they share."""
    a, b = shapely.STRtree(buildings).query(buildings, predicate="dwithin", distance=CLOSE)
    kept = a != b
    a, b = a[kept], b[kept]
    gap = shapely.distance(buildings[a], buildings[b])
    return a, b, gap, shapely.area(shapely.intersection(buildings[a], buildings[b]))


def main():
    start = time.perf_counter()
    clock = []
    tick = lambda what: clock.append((what, time.perf_counter() - start))
    db = sqlite3.connect(sys.argv[1])
    (plot_ids, plots), (building_ids, buildings), (_, streets) = (
        layer(db, table) for table in ("plots", "buildings", "streets")
    )
    tick("read")
    plots, buildings, streets = on_a_plane(plots, buildings, streets)
    tick("plane")
    held = assign(buildings, plots)
    area = shapely.area(buildings)
    tick("lots")
    # Whose land a hole is matters to what stands there; all else is about the outer lines.
    plots = shapely.polygons(shapely.get_exterior_ring(plots))
    sides, role, kinds = roles(plots, streets)
    tick("roles")
    building, side, away = yards(buildings, held, plots, sides, role)
    tick("yards")
    one, other, gap = separations(buildings, held)
    tick("separations")
    share = covered(plots, buildings)
    tick("shares")
    first, second, between, shared = overlaps(buildings)
    tick("overlaps")
    total = lambda values: round(float(np.sum(values)), 6)
    # A building on no lot is told apart from a dwelling, the largest of its lot.
    order = np.lexsort((np.arange(len(buildings)), -area, held))
    dwelling = np.zeros(len(buildings), bool)
    dwelling[order[np.unique(held[order], return_index=True)[1]]] = True
    summary = {
        "plots": len(plots),
        "buildings": len(buildings),
        "fronts": kinds,
        "sides": len(sides.lot),
        "on no lot": int((held < 0).sum()),
        "dwellings": int((dwelling & (held >= 0)).sum()),
    }
    for number, name in NAMES.items():
        of = role[side] == number
        summary[name] = [int(of.sum()), total(away[of])]
    summary["separations"] = [len(gap), total(gap)]
    summary["shares"] = [len(share), total(share)]
    summary["overlaps"] = [len(shared), total(between), total(shared)]
    if "--rows" in sys.argv:
        # To be compared, each line by the two corners it runs between.
        line = np.char.mod("c%d", sides.corners[:, 0] + 1) + np.char.mod("-c%d", sides.corners[:, 1] + 1)
        rows = {
            name: [
                [int(building_ids[b]), str(line[s]), round(float(d), 7)]
                for b, s, d in zip(building[of], side[of], away[of])
            ]
            for number, name in NAMES.items()
            for of in [role[side] == number]
        }
        pairs = zip(building_ids[one], building_ids[other], gap)
        rows["separation"] = [[int(a), int(b), round(float(d), 7)] for a, b, d in pairs]
        rows["share"] = [[int(lot), round(float(s), 9)] for lot, s in zip(plot_ids, share)]
        pairs = zip(building_ids[first], building_ids[second], between, shared)
        rows["overlap"] = [[int(a), int(b), round(float(d), 7), round(float(s), 7)] for a, b, d, s in pairs]
        with open(sys.argv[sys.argv.index("--rows") + 1], "w", encoding="utf-8") as out:
            json.dump({**summary, "rows": rows}, out)
    print(json.dumps(summary))
    if "--times" in sys.argv:
        print({what: round(at - before, 3) for (what, at), (_, before) in zip(clock, [("", 0.0), *clock])})


main()
