/* limited.c - every set of pieces worth at least so much that one stock can be cut into, no item oftener than wanted.
 *
 * Problem: "can this sheet yield more than ...?", answered exactly. Asked with the item values of a relaxation, for which there is little to
 * spare, the answer has few sets; asked with just any values it would have more than there is memory for.
 *
 * Model: a set counts its items. list(x, y) holds the sets S, each once, that a piece of capacity (x, y) can be cut into and for which
 *     u(S) + outer(x, y) >= least,
 * where outer is the most that all around such a piece can be worth (demand.c). list(x, y) consists of
 *     the sets of list(x - 1, y) and list(x, y - 1) that still matter, for outer falls with the size;
 *     the single items that fit from (x, y) on;
 *     S1 + S2, S1 of list(t, y), S2 of list(rest(x - t), y), over crosscuts t <= x / 2; the same for rips.
 * A set is *tight* along x where it is not in the list of the point before. S1 must be tight at t (else the point before leaves more room),
 * and S1 + S2 is new at (x, y) only if both are tight along x and fill it, or one of them is tight along y. Lists are sorted by value, so
 * that no pair below `least` is looked at but the first.
 *
 * A set is a row of bit fields, one for each item, each a bit wider than its count wanted needs: adding two sets adds all counts at
 * once, and a field that passes its limit shows in its spare bit.
 *
 * Proved: a layout within demand that is worth `least` or more is found, with any stages and any first cut; on exact points each set found is
 * such a layout. Cost: what is listed; given up where that is too much.
 *
 * After K. V. Viswanathan, A. Bagchi, "Best-first search methods for constrained two-dimensional cutting stock problems", Operations Research
 * 41 (1993), who join rectangles by best outer value; here cell by cell, so that a set in many shapes is one.
 */
#include "limited.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum {
    MOST_STOCKS = 24,
    MOST_WORDS = 8,
    FIRST_SETS = 1024,
    MOST_SETS = 262144,
    MOST_ENTRIES = 2500000,
    TICKS_A_PAIR = 8,
    TICKS_AN_ENTRY = 80,
    TICKS_UNPAID = 1000000,
};

struct entry {
    int64_t value;
    int32_t set;
    bool tight_x, tight_y;
};

struct list {
    struct entry *entries;
    int count;
};

/* Where an item's count stands in a set. */
struct field {
    int word, shift;
};

struct limited {
    const struct problem *problem;
    struct dw_arena *arena;
    int64_t demand_ticks;
    struct demand **demands; /* of each stock, made when first valued */
    const int64_t *u;
    struct field *fields;
    int words;
    uint64_t headroom[MOST_WORDS]; /* added to a set, it carries a field that is over its limit into the spare bit */
    uint64_t spare[MOST_WORDS];

    int stock;               /* of the listing */
    const struct demand *demand;
    struct dw_arena *listing;
    struct list *lists;      /* by cell */
    uint64_t *sets;          /* `words` each */
    int32_t set_count, set_capacity;
    int32_t *slots;          /* hash of a set -> its number, -1 for none; twice the capacity */
    int32_t *cell_seen;      /* of each set: the last cell that it was put to */
    int32_t *place;          /* and where in it */
    struct entry *made;      /* the list of the cell at hand */
    int made_count;
    int32_t cell_number;     /* of the cell at hand, from 1 */
    int64_t entry_count;
    int64_t least;
    struct meter *meter;
    int64_t ticks;           /* not on the meter yet */
    bool full;               /* given up: too many sets, or too much work */
};

/* ---- sets as numbers ---- */

static int bits_for(int64_t count)
{
    int bits = 1;
    while (bits < 40 && (INT64_C(1) << bits) <= count)
        bits++;
    return bits;
}

/* False when the words do not do. */
static bool lay_fields(struct limited *limited)
{
    int word = 0, shift = 0;
    for (int i = 0; i < limited->problem->item_count; i++) {
        const int64_t count = limited->problem->items[i].count;
        const int bits = bits_for(count);
        if (shift + bits + 1 > 64) {
            word++;
            shift = 0;
        }
        if (word == MOST_WORDS)
            return false;
        limited->fields[i] = (struct field){word, shift};
        limited->headroom[word] |= ((UINT64_C(1) << bits) - 1 - (uint64_t)count) << shift;
        limited->spare[word] |= UINT64_C(1) << (shift + bits);
        shift += bits + 1;
    }
    limited->words = word + 1;
    return true;
}

static bool is_within_demand(const struct limited *limited, const uint64_t *set)
{
    uint64_t over = 0;
    for (int w = 0; w < limited->words; w++)
        over |= (set[w] + limited->headroom[w]) & limited->spare[w];
    return over == 0;
}

static int32_t count_of(const struct limited *limited, const uint64_t *set, int item)
{
    const struct field *field = &limited->fields[item];
    const int bits = bits_for(limited->problem->items[item].count);
    return (int32_t)(set[field->word] >> field->shift & ((UINT64_C(1) << bits) - 1));
}

static const uint64_t *set_at(const struct limited *limited, int32_t number)
{
    return limited->sets + (size_t)number * (size_t)limited->words;
}

static int32_t *slot_of(const struct limited *limited, const uint64_t *set)
{
    uint64_t hash = UINT64_C(0x9e3779b97f4a7c15);
    for (int w = 0; w < limited->words; w++) {
        hash = (hash ^ set[w]) * UINT64_C(0xbf58476d1ce4e5b9);
        hash ^= hash >> 31;
    }
    const size_t mask = 2 * (size_t)limited->set_capacity - 1;
    for (size_t slot = (size_t)hash & mask;; slot = (slot + 1) & mask) {
        const int32_t number = limited->slots[slot];
        if (number < 0 || memcmp(set_at(limited, number), set, (size_t)limited->words * sizeof *set) == 0)
            return &limited->slots[slot];
    }
}

/* Room for twice as many sets, or the first ones. Those there are keep their numbers. */
static void make_room(struct limited *limited)
{
    struct dw_arena *arena = limited->arena;
    const size_t before = (size_t)limited->set_capacity, words = (size_t)limited->words;
    const size_t capacity = before > 0 ? 2 * before : FIRST_SETS;
    uint64_t *sets = dw_arena_alloc(arena, capacity * words, sizeof *sets);
    int32_t *cell_seen = dw_arena_alloc(arena, capacity, sizeof *cell_seen);
    int32_t *place = dw_arena_alloc(arena, capacity, sizeof *place);
    struct entry *made = dw_arena_alloc(arena, capacity, sizeof *made);
    int32_t *slots = dw_arena_alloc(arena, 2 * capacity, sizeof *slots);
    if (before > 0) {
        memcpy(sets, limited->sets, before * words * sizeof *sets);
        memcpy(cell_seen, limited->cell_seen, before * sizeof *cell_seen);
        memcpy(place, limited->place, before * sizeof *place);
        memcpy(made, limited->made, before * sizeof *made);
    }
    limited->sets = sets;
    limited->cell_seen = cell_seen;
    limited->place = place;
    limited->made = made;
    limited->slots = slots;
    limited->set_capacity = (int32_t)capacity;
    memset(slots, -1, 2 * capacity * sizeof *slots);
    for (int32_t number = 0; number < limited->set_count; number++)
        *slot_of(limited, set_at(limited, number)) = number;
}

/* ---- the list of one cell ---- */

/* The set's number, new or old; -1 when there are too many. */
static int32_t number_of(struct limited *limited, const uint64_t *set)
{
    int32_t *slot = slot_of(limited, set);
    if (*slot >= 0)
        return *slot;
    limited->full |= limited->set_count == MOST_SETS;
    if (limited->full)
        return -1;
    if (limited->set_count == limited->set_capacity) {
        make_room(limited);
        slot = slot_of(limited, set);
    }
    memcpy(limited->sets + (size_t)limited->set_count * (size_t)limited->words, set, (size_t)limited->words * sizeof *set);
    return *slot = limited->set_count++;
}

/* Puts a set to the list at hand unless it is there; NULL when it is. */
static struct entry *put(struct limited *limited, int32_t set, int64_t value)
{
    if (limited->cell_seen[set] == limited->cell_number)
        return NULL;
    limited->cell_seen[set] = limited->cell_number;
    limited->place[set] = limited->made_count;
    limited->ticks += TICKS_AN_ENTRY;
    struct entry *entry = &limited->made[limited->made_count++];
    *entry = (struct entry){.value = value, .set = set, .tight_x = true, .tight_y = true};
    return entry;
}

static void put_new(struct limited *limited, const uint64_t *set, int64_t value)
{
    const int32_t number = number_of(limited, set);
    if (number >= 0)
        (void)put(limited, number, value);
}

/* Takes over what the pieces a point smaller hold. */
static void inherit(struct limited *limited, int x, int y, int64_t outer)
{
    const struct list *shorter = &limited->lists[dwi_demand_cell(limited->demand, x - 1, y)];
    const struct list *narrower = &limited->lists[dwi_demand_cell(limited->demand, x, y - 1)];
    for (int k = 0; k < shorter->count && shorter->entries[k].value + outer >= limited->least; k++)
        put(limited, shorter->entries[k].set, shorter->entries[k].value)->tight_x = false;
    for (int k = 0; k < narrower->count && narrower->entries[k].value + outer >= limited->least; k++) {
        (void)put(limited, narrower->entries[k].set, narrower->entries[k].value);
        limited->made[limited->place[narrower->entries[k].set]].tight_y = false;
    }
}

/* Items that fit from here on; spots are by rising x. */
static void put_items(struct limited *limited, int x, int y, int64_t outer, int first_spot)
{
    const struct grid *grid = &limited->demand->grid;
    for (int k = first_spot; k < grid->spot_count && grid->spots[k].x == x; k++) {
        const int item = grid->spots[k].item;
        uint64_t set[MOST_WORDS] = {0};
        if (grid->spots[k].y != y || limited->u[item] == 0 || limited->u[item] + outer < limited->least)
            continue;
        set[limited->fields[item].word] = UINT64_C(1) << limited->fields[item].shift;
        put_new(limited, set, limited->u[item]);
    }
}

/* A split into lists one and other: does it fill its side to the last point? */
struct split {
    const struct list *one, *other;
    bool along_x, fills;
};

static bool tight_along(const struct entry *entry, bool x)
{
    return x ? entry->tight_x : entry->tight_y;
}

/* Joins a set with those of a list as long as the pairs matter. */
static void join_with(struct limited *limited, const struct entry *first, const struct split *split, int64_t least)
{
    const uint64_t *one = set_at(limited, first->set);
    const bool across = tight_along(first, !split->along_x);
    for (int k = 0; k < split->other->count && !limited->full; k++) {
        const struct entry *second = &split->other->entries[k];
        limited->ticks += TICKS_A_PAIR;
        if (first->value + second->value < least)
            return;
        if (!across && !tight_along(second, !split->along_x) && !(split->fills && tight_along(second, split->along_x)))
            continue;
        const uint64_t *two = set_at(limited, second->set);
        uint64_t sum[MOST_WORDS];
        for (int w = 0; w < limited->words; w++)
            sum[w] = one[w] + two[w];
        if (is_within_demand(limited, sum))
            put_new(limited, sum, first->value + second->value);
    }
}

static void pay(struct limited *limited)
{
    limited->full |= !dwi_meter_spend(limited->meter, limited->ticks);
    limited->ticks = 0;
}

static void join(struct limited *limited, const struct split *split, int64_t least)
{
    const struct list *one = split->one, *other = split->other;
    if (other->count == 0)
        return;
    for (int k = 0; k < one->count && one->entries[k].value + other->entries[0].value >= least && !limited->full; k++) {
        if (tight_along(&one->entries[k], split->along_x))
            join_with(limited, &one->entries[k], split, least);
        if (limited->ticks > TICKS_UNPAID)
            pay(limited);
    }
}

/* The lists of the two halves that split t of cell (x, y) makes. */
static struct split split_at(const struct limited *limited, bool along_x, int x, int y, int t)
{
    const struct demand *demand = limited->demand;
    const struct axis *axis = along_x ? &demand->grid.x : &demand->grid.y;
    const int at = along_x ? x : y, rest = axis->rest[axis->first[at] + t];
    return (struct split){
        .one = &limited->lists[along_x ? dwi_demand_cell(demand, t, y) : dwi_demand_cell(demand, x, t)],
        .other = &limited->lists[along_x ? dwi_demand_cell(demand, rest, y) : dwi_demand_cell(demand, x, rest)],
        .along_x = along_x,
        .fills = axis->at[t] + axis->at[rest] > axis->at[at - 1],
    };
}

static void join_all(struct limited *limited, bool along_x, int x, int y, int64_t outer)
{
    const struct axis *axis = along_x ? &limited->demand->grid.x : &limited->demand->grid.y;
    const int halves = axis->halves[along_x ? x : y];
    for (int t = 1; t <= halves && !limited->full; t++) {
        const struct split split = split_at(limited, along_x, x, y, t);
        if (split.one->count > 0)
            join(limited, &split, limited->least - outer);
    }
    limited->ticks += 2 * (int64_t)halves;
}

static int dearer_first(const void *a, const void *b)
{
    const struct entry *first = a, *second = b;
    if (first->value != second->value)
        return first->value > second->value ? -1 : 1;
    return (first->set > second->set) - (first->set < second->set);
}

static void list_cell(struct limited *limited, int x, int y, int first_spot)
{
    const size_t cell = dwi_demand_cell(limited->demand, x, y);
    const int64_t outer = limited->demand->outer[cell];
    if (outer < 0)
        return;
    limited->cell_number++;
    limited->made_count = 0;
    inherit(limited, x, y, outer);
    put_items(limited, x, y, outer, first_spot);
    join_all(limited, true, x, y, outer);
    join_all(limited, false, x, y, outer);
    limited->entry_count += limited->made_count;
    limited->full |= limited->entry_count > MOST_ENTRIES;
    if (limited->full || limited->made_count == 0)
        return;
    qsort(limited->made, (size_t)limited->made_count, sizeof *limited->made, dearer_first);
    limited->lists[cell] = (struct list){
        dw_arena_copy(limited->listing, limited->made, (size_t)limited->made_count, sizeof *limited->made), limited->made_count};
}

/* ---- listing ---- */

struct limited *dwi_limited_new(const struct problem *problem, int64_t ticks, struct dw_arena *arena)
{
    struct limited *limited = dw_arena_alloc(arena, 1, sizeof *limited);
    *limited = (struct limited){.problem = problem, .arena = arena, .demand_ticks = ticks};
    limited->fields = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *limited->fields);
    if (problem->stock_count > MOST_STOCKS || !lay_fields(limited))
        return NULL;
    limited->demands = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof(struct demand *));
    limited->listing = dw_arena_child(arena);
    make_room(limited);
    return limited;
}

static struct demand *demand_of(struct limited *limited, int stock)
{
    if (limited->demands[stock] == NULL)
        limited->demands[stock] = dwi_demand_new(limited->problem, stock, limited->demand_ticks, limited->arena);
    return limited->demands[stock];
}

bool dwi_limited_sees(struct limited *limited, int item)
{
    for (int s = 0; s < limited->problem->stock_count; s++)
        if (!demand_of(limited, s)->seen[item])
            return false;
    return true;
}

int64_t dwi_limited_value(struct limited *limited, int stock, const int64_t *u, struct meter *meter)
{
    limited->u = u;
    return dwi_demand_value(demand_of(limited, stock), u, meter);
}

static void start_listing(struct limited *limited, int stock, int64_t least, struct meter *meter)
{
    const struct grid *grid = &limited->demands[stock]->grid;
    limited->stock = stock;
    limited->demand = limited->demands[stock];
    limited->least = least;
    limited->meter = meter;
    dw_arena_clear(limited->listing);
    limited->lists = dw_arena_alloc(limited->listing, (size_t)grid->x.count * (size_t)grid->y.count, sizeof *limited->lists);
    memset(limited->slots, -1, 2 * (size_t)limited->set_capacity * sizeof *limited->slots);
    memset(limited->cell_seen, 0, (size_t)limited->set_count * sizeof *limited->cell_seen);
    limited->set_count = limited->made_count = limited->cell_number = 0;
    limited->entry_count = limited->ticks = 0;
    limited->full = false;
}

enum listing dwi_limited_list(struct limited *limited, int stock, int64_t least, struct meter *meter, int64_t ticks)
{
    const struct grid *grid = &limited->demands[stock]->grid;
    const int64_t before = dwi_meter_narrow(meter, ticks);
    dwi_demand_outer(limited->demands[stock], least, meter);
    start_listing(limited, stock, least, meter);
    int first_spot = 0;
    for (int x = 1; x < grid->x.count && !limited->full; x++) {
        while (first_spot < grid->spot_count && grid->spots[first_spot].x < x)
            first_spot++;
        for (int y = 1; y < grid->y.count && !limited->full; y++) {
            list_cell(limited, x, y, first_spot);
            pay(limited);
        }
    }
    meter->limit = before;
    if (limited->full)
        return LISTED_NOT;
    return dwi_limited_count(limited) > 0 ? LISTED_SOME : LISTED_NONE;
}

static const struct list *whole_list(const struct limited *limited)
{
    const struct grid *grid = &limited->demand->grid;
    return &limited->lists[dwi_demand_cell(limited->demand, grid->x.count - 1, grid->y.count - 1)];
}

size_t dwi_limited_count(const struct limited *limited)
{
    return (size_t)whole_list(limited)->count;
}

int64_t dwi_limited_most(const struct limited *limited)
{
    return whole_list(limited)->entries[0].value;
}

/* ---- the layout of a set ---- */

struct building {
    const struct limited *limited;
    struct slice *nodes;
    int count;
};

static const struct entry *entry_of(const struct list *list, int32_t set)
{
    for (int k = 0; k < list->count; k++)
        if (list->entries[k].set == set)
            return &list->entries[k];
    return NULL;
}

static int build(struct building *building, int x, int y, int32_t set);

/* -1 when the set is not a single item that fits from here on. */
static int build_item(struct building *building, int x, int y, const uint64_t *set)
{
    const struct limited *limited = building->limited;
    const struct grid *grid = &limited->demand->grid;
    for (int k = 0; k < grid->spot_count; k++) {
        const struct spot *spot = &grid->spots[k];
        const struct item *item = &limited->problem->items[spot->item];
        uint64_t single[MOST_WORDS] = {0};
        single[limited->fields[spot->item].word] = UINT64_C(1) << limited->fields[spot->item].shift;
        if (spot->x != x || spot->y != y || memcmp(single, set, (size_t)limited->words * sizeof *set) != 0)
            continue;
        building->nodes[building->count] = (struct slice){.kind = SLICE_ITEM, .item = spot->item, .turned = spot->turned,
                                                          .first = -1, .second = -1,
                                                          .length = spot->turned ? item->width : item->length,
                                                          .width = spot->turned ? item->length : item->width};
        return building->count++;
    }
    return -1;
}

/* What is left of a set without a part of it: its number, or -1 when that is no part, or the rest was never listed. */
static int32_t rest_of(const struct limited *limited, const uint64_t *set, const uint64_t *part)
{
    uint64_t rest[MOST_WORDS];
    for (int w = 0; w < limited->words; w++) {
        const uint64_t lent = (set[w] | limited->spare[w]) - part[w];
        if ((lent & limited->spare[w]) != limited->spare[w])
            return -1;
        rest[w] = lent & ~limited->spare[w];
    }
    return *slot_of(limited, rest);
}

static int build_join(struct building *building, bool along_x, int x, int y, int32_t set)
{
    const struct limited *limited = building->limited;
    const struct axis *axis = along_x ? &limited->demand->grid.x : &limited->demand->grid.y;
    const int at = along_x ? x : y;
    for (int t = 1; t <= axis->halves[at]; t++) {
        const struct split split = split_at(limited, along_x, x, y, t);
        const int rest = axis->rest[axis->first[at] + t];
        for (int k = 0; k < split.one->count; k++) {
            const int32_t one = split.one->entries[k].set;
            const int32_t other = rest_of(limited, set_at(limited, set), set_at(limited, one));
            if (other < 0 || entry_of(split.other, other) == NULL)
                continue;
            const int first = along_x ? build(building, t, y, one) : build(building, x, t, one);
            const int second = along_x ? build(building, rest, y, other) : build(building, x, rest, other);
            building->nodes[building->count] =
                dwi_slice_join(along_x ? SLICE_BESIDE : SLICE_UPON, first, second, building->nodes);
            return building->count++;
        }
    }
    return -1;
}

/* The node of a set in a cell that lists it. */
static int build(struct building *building, int x, int y, int32_t set)
{
    const struct limited *limited = building->limited;
    const struct entry *entry = entry_of(&limited->lists[dwi_demand_cell(limited->demand, x, y)], set);
    if (!entry->tight_x)
        return build(building, x - 1, y, set);
    if (!entry->tight_y)
        return build(building, x, y - 1, set);
    int node = build_item(building, x, y, set_at(limited, set));
    if (node < 0)
        node = build_join(building, true, x, y, set);
    if (node < 0)
        node = build_join(building, false, x, y, set);
    return node;
}

const struct pattern *dwi_limited_pattern(const struct limited *limited, size_t k, struct dw_arena *arena)
{
    const struct grid *grid = &limited->demand->grid;
    const struct entry *entry = &whole_list(limited)->entries[k];
    int32_t *counts = dw_arena_alloc(arena, (size_t)limited->problem->item_count, sizeof *counts);
    struct pattern *pattern = dw_arena_alloc(arena, 1, sizeof *pattern);
    *pattern = (struct pattern){.stock = limited->stock, .counts = counts};
    int64_t pieces = 0;
    for (int i = 0; i < limited->problem->item_count; i++) {
        counts[i] = count_of(limited, set_at(limited, entry->set), i);
        pieces += counts[i];
        pattern->area += counts[i] * limited->problem->items[i].area;
    }
    if (grid->step_x > 1 || grid->step_y > 1)
        return pattern;
    struct building building = {.limited = limited};
    building.nodes = dw_arena_alloc(arena, (size_t)(2 * pieces), sizeof *building.nodes);
    pattern->root = build(&building, grid->x.count - 1, grid->y.count - 1, entry->set);
    pattern->nodes = building.nodes;
    pattern->node_count = building.count;
    return pattern;
}
