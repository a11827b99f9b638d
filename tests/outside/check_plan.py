#!/usr/bin/env python3
"""Checks a plan.json from outside: another language, no code in common with the program, the file alone as evidence.

For every sheet: the root is the sheet less its trims; pieces of a cut lie inside their parent, in order, one kerf apart (less where a saw takes less),
the rest past the last one a kerf at most; a rip splits the width and a crosscut the length; a part has exactly the size to cut and lies with its grain as asked.
Rough cuts come first and leave room for what is over; sheets too large for the van are cut at the yard into panels that fit it. Over the plan: every
piece is cut once and once only; sheet counts are within what is offered; each material's cost is the sum of its sheets; charges add up to the total.
Where sizes gave, what was saved is what is left of the cost before, and boxes said to be lower are.
For the bound: each inequality of the certificate is recomputed (the most value one sheet can yield, by a dynamic program over normal points) where that
is small enough, and the sheets used obey it.

usage: check_plan.py plan.json ...        exit status 0 when every plan holds
"""
import json
import sys
from functools import lru_cache

MOST_HELD = 10  # pieces on a sheet, where sets of pieces are tried
MOST_STEPS = 200000
MOST_POINTS = 160  # a side; beyond that a certificate is taken on trust and counted as such


class Breach(Exception):
    pass


def need(truth, words):
    if not truth:
        raise Breach(words)


def whole(number, words):
    need(isinstance(number, int) and not isinstance(number, bool), f"{words}: {number!r} is not a whole number")
    return number


def check_node(node, kerf, grain, parts, found, where, turns, matched):
    for key in ("x", "y", "length", "width"):
        whole(node[key], f"{where}.{key}")
    need(node["length"] > 0 and node["width"] > 0, f"{where}: no size")
    kinds = [kind for kind in ("cut", "part", "offcut") if kind in node]
    need(len(kinds) == 1, f"{where}: one of cut, part, offcut is wanted, not {kinds}")
    if kinds == ["part"]:
        check_part(node, grain, parts, found, where)
    elif kinds == ["offcut"]:
        need(node["offcut"] in ("keep", "waste"), f"{where}: offcut {node['offcut']!r}")
    else:
        check_cut(node, kerf, grain, parts, found, where, turns, matched)


def check_part(node, grain, parts, found, where):
    part = parts.get(node["part"])
    need(part is not None, f"{where}: no part {node['part']!r}")
    # the side of the part that lies along the sheet's length
    length, width = part["length"], part["width"]
    if node["quarter_turn"]:
        length, width = width, length
    need((node["length"], node["width"]) == (length, width), f"{where}: {node['part']} is not cut to size")
    along_length = part["grain"] == "along"
    if part["grain"] != "free" and grain is not None:
        lies_along = not node["quarter_turn"]  # the part's length lies along the sheet's length
        grain_along_length = grain == "length"
        need((lies_along == grain_along_length) == along_length, f"{where}: {node['part']} lies against its grain")
    found.append((node["part"], node["piece"]))


def check_cut(node, kerf, grain, parts, found, where, turns, matched):
    need(node["cut"] in ("rip", "crosscut"), f"{where}: cut {node['cut']!r}")
    at, size, other_at, other = ("y", "width", "x", "length") if node["cut"] == "rip" else ("x", "length", "y", "width")
    need(len(node["pieces"]) >= 1, f"{where}: a cut into nothing")
    edge = node[at]
    spared = 0  # by saws of less kerf
    for number, piece in enumerate(node["pieces"]):
        need(piece[at] == edge, f"{where}[{number}]: starts at {piece[at]}, not at {edge}")
        need(piece[other_at] == node[other_at] and piece[other] == node[other], f"{where}[{number}]: not cut through")
        check_node(piece, kerf, grain, parts, found, f"{where}[{number}]", turns, matched)
        need(not piece.get("rough") or node.get("rough"), f"{where}[{number}]: a rough cut after a true one")
        last = piece[at] + piece[size]
        between = piece.get("after", kerf)
        need(between > 0 or kerf == 0, f"{where}[{number}]: nothing between two pieces")
        need(between <= kerf or node.get("rough"), f"{where}[{number}]: {between} between two pieces")
        edge = last + between
        spared += max(0, kerf - between)
    need(last <= node[at] + node[size], f"{where}: pieces reach past the end")
    need(node[at] + node[size] - last <= kerf + spared, f"{where}: more than a kerf is left unnamed")


def fits_van(length, width, van):
    longest = van[0] or max(length, width)
    limit = (longest, van[1] or longest)  # a length alone holds for both sides
    return (length <= limit[0] and width <= limit[1]) or (width <= limit[0] and length <= limit[1])


def check_panels(node, beyond, over, van, where):
    """What a rough node is broken down to: every gap holds what is over on both sides and a blade; what the yard has cut fits the van (van not None),
    waste apart. beyond: what the panel has at its four sides beyond the node."""
    if not node.get("rough"):
        length = node["length"] + beyond[0] + beyond[1]
        width = node["width"] + beyond[2] + beyond[3]
        fits = van is None or node.get("offcut") == "waste" or fits_van(length, width, van)
        need(fits, f"{where}: a panel of {length} x {width} does not fit the van")
        return
    low = 2 if node["cut"] == "rip" else 0
    count = len(node["pieces"])
    for number, piece in enumerate(node["pieces"]):
        need(number + 1 == count or piece["after"] > 2 * over, f"{where}[{number}]: no blade fits between what is over")
        own = list(beyond)
        own[low] = over if number > 0 else own[low]
        own[low + 1] = over if number + 1 < count else own[low + 1]
        check_panels(piece, own, over, van, f"{where}[{number}]")


def check_breakdown(sheet, offer, over, van, where):
    root = sheet["cut"]
    must = offer["from"] == "bought" and not fits_van(offer["length"], offer["width"], van)
    need(must == (sheet["comes"] == "cut at the yard"), f"{where}: {sheet['comes']}, and the van says otherwise")
    need(root.get("rough", False) == (sheet["comes"] != "whole"), f"{where}: {sheet['comes']}, and its first cuts say otherwise")
    check_panels(root, offer["trim"], over, van if must else None, where)


def best_values(sheets, items, kerf):
    """The most value a sheet yields under through cuts, items without limit of number: exact, over normal points."""
    def points(limit, sizes):
        reach = {0}
        for size in sizes:
            for start in sorted(reach):
                at = start + size
                while at <= limit and at not in reach:
                    reach.add(at)
                    at += size
        return sorted(reach)

    results = []
    for length, width in sheets:
        wide = [(l, w, v) for (l, w, v) in items if l <= length and w <= width and v > 0]
        xs = points(length, {l for l, _, _ in wide})
        ys = points(width, {w for _, w, _ in wide})
        if len(xs) > MOST_POINTS or len(ys) > MOST_POINTS:
            return None
        results.append(best_value(length, width, wide, xs, ys))
    return results


def best_value(length, width, items, xs, ys):
    def down(points, value):
        best = 0
        for point in points:
            if point > value:
                break
            best = point
        return best

    sys.setrecursionlimit(100000)

    @lru_cache(maxsize=None)
    def value(x, y):
        best = max((v for l, w, v in items if l <= x and w <= y), default=0)
        for cut in xs:
            if cut == 0:
                continue
            if cut > x // 2:
                break
            best = max(best, value(cut, y) + value(down(xs, x - cut), y))
        for cut in ys:
            if cut == 0:
                continue
            if cut > y // 2:
                break
            best = max(best, value(x, cut) + value(x, down(ys, y - cut)))
        return best

    return value(down(xs, length), down(ys, width))


def boxes_of(pieces, table, length, width):
    """The sizes that exactly these pieces (a tuple of kinds) can be cut from, those that fit the sheet."""
    if pieces in table:
        return table[pieces]
    found = set()
    for choice in range(1, 2 ** len(pieces) - 1, 2):  # odd: the first piece is always in the first half
        one = tuple(p for k, p in enumerate(pieces) if choice >> k & 1)
        other = tuple(p for k, p in enumerate(pieces) if not choice >> k & 1)
        for a in boxes_of(one, table, length, width):
            for b in boxes_of(other, table, length, width):
                found.add((a[0] + b[0], max(a[1], b[1])))
                found.add((max(a[0], b[0]), a[1] + b[1]))
    found = {(x, y) for x, y in found if x <= length and y <= width}
    table[pieces] = [(x, y) for x, y in found if not any((a, b) != (x, y) and a <= x and b <= y for a, b in found)]
    return table[pieces]


def yields_more(sheet, kinds, limit):
    """Can the sheet yield more than `limit`, no kind oftener than wanted? kinds: (ways it may lie, value, count). Every set of pieces that
    fits and could still exceed the limit is tried; None when they are too many."""
    length, width = sheet
    kinds = sorted((kind for kind in kinds if kind[1] > 0), key=lambda kind: -kind[1] / (kind[0][0][0] * kind[0][0][1]))
    table = {(k,): [(x, y) for x, y in ways if x <= length and y <= width] for k, (ways, _, _) in enumerate(kinds)}
    steps = 0

    def still(kind, taken, area):
        most = 0
        for k in range(kind, len(kinds)):
            ways, value, count = kinds[k]
            each = ways[0][0] * ways[0][1]
            left = count - (taken if k == kind else 0)
            if each * left > area:
                return most + -(-value * area // each)
            most += value * left
            area -= each * left
        return most

    def grow(pieces, worth, area):
        nonlocal steps
        for k in range(pieces[-1] if pieces else 0, len(kinds)):
            taken = pieces.count(k)
            steps += 1 << len(pieces)
            if steps > MOST_STEPS or len(pieces) >= MOST_HELD:
                raise OverflowError
            if worth + still(k, taken, area) <= limit:
                return False
            ways, value, count = kinds[k]
            if taken < count and boxes_of(pieces + (k,), table, length, width):
                if worth + value > limit or grow(pieces + (k,), worth + value, area - ways[0][0] * ways[0][1]):
                    return True
        return False

    try:
        return grow((), 0, length * width)
    except OverflowError:
        return None


def check_certificate(material, parts, used, where):
    kerf = material["kerf"]
    proved = trusted = 0
    for number, row in enumerate(material["certificate"]):
        place = f"{where}.certificate[{number}]"
        # a matched group is one rectangle to the optimizer; its value stands under the first part's name, so
        # such materials are held to the plan only
        left = sum(row["v"].get(sheet, 0) * count for sheet, count in used.items())
        need(left >= row["rhs"], f"{place}: the plan itself breaks it ({left} < {row['rhs']})")
        if material["matched"]:
            trusted += 1
            continue
        need(sum(value * parts[name]["count"] for name, value in row["u"].items()) == row["rhs"], f"{place}: wrong right side")
        items = []
        counts = []
        for name, value in row["u"].items():
            part = parts[name]
            counts.append(part["count"])
            size = (part["length"] + kerf, part["width"] + kerf, value)
            turned = (size[1], size[0], value)
            items.append((size, turned, part["grain"]))
        sheets, flat, names = [], [], []
        for offer in material["offered"]:
            trim = offer["trim"]
            sheets.append((offer["length"] - trim[0] - trim[1] + kerf, offer["width"] - trim[2] - trim[3] + kerf))
            names.append(offer["sheet"])
        known = True
        for (length, width), name, offer in zip(sheets, names, material["offered"]):
            flat, kinds = [], []
            for (size, turned, grain), count in zip(items, counts):
                along = grain == "along"
                if grain == "free":
                    ways = [size, turned]
                else:
                    ways = [size if along == (offer["grain"] == "length") else turned]
                flat += ways
                kinds.append(([way[:2] for way in ways], size[2], count))
            values = best_values([(length, width)], flat, kerf)
            if values is None:
                known = False
                continue
            most = min(values[0], row["rhs"])  # no sheet yields more than all that is wanted
            if row["v"][name] < most:  # too much for parts without limit of number; is it for those wanted?
                more = yields_more((length, width), kinds, row["v"][name])
                known = known and more is not None
                if not more:
                    continue
            need(row["v"][name] >= most, f"{place}: sheet {name} can yield {most}, not only {row['v'][name]}")
        proved += known
        trusted += not known
    return proved, trusted


def check_material(material, parts, all_found, where):
    kerf = whole(material["kerf"], f"{where}.kerf")
    offered = {offer["sheet"]: offer for offer in material["offered"]}
    used = {}
    cost = 0
    found = []
    for number, sheet in enumerate(material["sheets"]):
        place = f"{where}.sheets[{number}]"
        offer = offered.get(sheet["sheet"])
        need(offer is not None, f"{place}: {sheet['sheet']!r} is not offered")
        used[sheet["sheet"]] = used.get(sheet["sheet"], 0) + 1
        cost += offer["price"]
        trim = offer["trim"]
        root = sheet["cut"]
        wanted = (trim[0], trim[2], offer["length"] - trim[0] - trim[1], offer["width"] - trim[2] - trim[3])
        need((root["x"], root["y"], root["length"], root["width"]) == wanted, f"{place}: the root is not the sheet less its trims")
        check_node(root, kerf, offer["grain"], parts, found, place, material["turns"], material["matched"])
        check_breakdown(sheet, offer, material["rough_over"], material["van"], place)
    for name, count in used.items():
        limit = offered[name]["count"]
        need(limit is None or count <= limit, f"{where}: {count} of {name} used, {limit} offered")
    for name, _ in found:
        need(parts[name]["material"] == material["material"], f"{where}: {name} is of another material")
    need(cost == material["cost"], f"{where}: sheets come to {cost}, not {material['cost']}")
    need(material["lower_bound"] <= material["cost"], f"{where}: the bound lies above the cost")
    need(material["proved"] == (material["lower_bound"] == material["cost"]), f"{where}: proved is said wrongly")
    all_found += found
    return check_certificate(material, parts, used, where)


def check_leeway(plan):
    """What sizes gave: the money adds up, and every box that is told to be lower is."""
    leeway = plan.get("leeway")
    if leeway is None:
        return
    sheets = sum(charge["amount"] for charge in plan["charges"] if charge["name"] in ("sheets", "delivery"))
    need(leeway["saved"] == leeway["before"] - sheets - leeway["slides"], "leeway: saved is not what is left of before")
    need(leeway["saved"] >= 0 and leeway["lower_bound"] <= leeway["before"] - leeway["saved"], "leeway: dearer than before, or below its bound")
    need(leeway["certain"] == (leeway["lower_bound"] == leeway["before"] - leeway["saved"]), "leeway: certain without its bound")
    heights = {drawer["path"]: drawer.get("box_height", {}).get("value") for drawer in plan["drawers"]}
    for change in leeway["changes"]:
        where = f"leeway, {change['show']}"
        need(change["paths"] and change["count"] >= len(change["paths"]) and change["from"] != change["to"], f"{where}: nothing changed")
        need(change["take"] and change["refuse"], f"{where}: what to write is missing")
        for path in change["paths"]:
            if change["what"] == "box height" and len(plan["jobs"]) == 1:
                need(heights[path] <= change["to"], f"{where}: {path} is {heights[path]}")


def check_plan(path):
    with open(path, encoding="utf-8") as file:
        plan = json.load(file)
    need(plan["format"] == 1, "format 1 is wanted")
    parts = {part["id"]: part for part in plan["parts"]}
    need(len(parts) == len(plan["parts"]), "two parts share an id")
    found = []
    proved = trusted = 0
    for number, material in enumerate(plan["materials"]):
        more = check_material(material, parts, found, f"materials[{number}]")
        proved += more[0]
        trusted += more[1]
    marks = [piece for part in plan["parts"] + plan.get("later", []) for piece in part["pieces"]]
    need(len(marks) == len(set(marks)), "a piece is planned and left for later")
    for goods in plan.get("goods", []):
        need(0 <= goods["wanted"] <= goods["bought"], f"goods: {goods['id']}: fewer bought than wanted")
    wanted = sorted((part["id"], piece) for part in plan["parts"] for piece in part["pieces"])
    need(sorted(found) == wanted, "the pieces cut are not the pieces wanted")
    for part in plan["parts"]:
        need(part["count"] == len(part["pieces"]), f"part {part['id']}: count and pieces differ")
    need(sum(charge["amount"] for charge in plan["charges"]) == plan["total"], "the charges do not add up to the total")
    check_leeway(plan)
    return len(found), proved, trusted


def main(paths):
    status = 0
    for path in paths:
        try:
            pieces, proved, trusted = check_plan(path)
            print(f"{path}: {pieces} pieces hold; inequalities proved again {proved}, held to the plan only {trusted}")
        except (Breach, KeyError, TypeError) as breach:
            print(f"{path}: {breach!r}")
            status = 1
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
