/* strips.c - sheets of strips, each strip of one height.
 *
 * Problem: with thousands of parts ruin and recreate gets a few per cent of waste and no further; but so many parts
 * offer lines that fit to a hair. A strip is a row of pieces of one rise (extent across it); which pieces, is a bounded subset sum of
 * their runs (extents along it) as close to the sheet's as can be. A sheet is a stack of strips: once more a subset sum, of rises.
 * Sheets that are all but full (98.5 per cent) are final; all other pieces are given back.
 *
 * Subset sums: cells of the line are reached from 0, longest pieces first, each kind at most as often as it is there; a cell remembers
 * the kind that reached it first (so long pieces are used up early and the short ones stay to fill gaps). Pieces are
 * rounded up to cells, so a sum never overflows the line.
 *
 * Two stages and no trim, the first cut as the request says: right under every limit of turns.
 * Cost: O(kinds * CELLS) a line. Heuristic. Subset sums as in Gilmore & Gomory, "Multistage cutting stock problems of two and
 * more dimensions", Operations Research 13 (1965), section on two stages, there with values.
 */
#include "strips.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { CELLS = 4096, TICKS_A_CELL = 1 };

/* What may be lost: an eightieth of a strip, a sixty-sixth of a sheet in all. Stricter sheets are fewer, and the rest is harder for it. */
enum { STRIP_LOSS = 80, SHEET_LOSS = 66 };

/* One kind of thing to set on a line: its extent along it and how many there are. */
struct kind {
    int64_t extent;
    int64_t across; /* strips: the extent across it */
    int64_t left;
    int64_t taken; /* by the line last filled */
    int item;      /* strips: the item and whether it is turned */
    bool turned;
    int rise;      /* sheets: which rise */
};

/* A line being filled. */
struct line {
    struct kind *kinds;
    int count;
    int64_t room;
    int16_t from[CELLS + 1]; /* kind that reached the cell first; -1 while unreached */
    int16_t used[CELLS + 1]; /* pieces of the present kind on the way there */
};

enum { KINDS_MOST = 2000, USED_MOST = 30000 };

static int cells_of(int64_t extent, int64_t cell)
{
    return (int)((extent + cell - 1) / cell);
}

/* Which cells sums reach; returns the highest. */
static int reach(struct line *line, int64_t cell, int last, struct meter *meter)
{
    const size_t cells = (size_t)last + 1;
    memset(line->from, -1, cells * sizeof *line->from);
    line->from[0] = 0;
    int highest = 0, k = 0;
    for (; k < line->count && highest < last; k++) {
        const struct kind *kind = &line->kinds[k];
        const int step = cells_of(kind->extent, cell);
        const int64_t most = kind->left < USED_MOST ? kind->left : USED_MOST;
        memset(line->used, 0, cells * sizeof *line->used);
        for (int c = step; most > 0 && c <= last; c++)
            if (line->from[c] < 0 && line->from[c - step] >= 0 && line->used[c - step] < most) {
                line->from[c] = (int16_t)k;
                line->used[c] = (int16_t)(line->used[c - step] + 1);
                highest = c > highest ? c : highest;
            }
    }
    dwi_meter_spend(meter, (int64_t)(k + 1) * (last + 1) * TICKS_A_CELL);
    return highest;
}

/* Fills the line as far as it goes; the kinds' `taken` says with what. Returns the sum of their extents. Kinds stand in order of
 * falling extent. */
static int64_t fill(struct line *line, struct meter *meter)
{
    const int64_t cell = line->room / CELLS + 1;
    const int last = (int)(line->room / cell);
    int64_t sum = 0;
    for (int k = 0; k < line->count; k++)
        line->kinds[k].taken = 0;
    for (int c = reach(line, cell, last, meter); c > 0;) {
        struct kind *kind = &line->kinds[line->from[c]];
        kind->taken++;
        sum += kind->extent;
        c -= cells_of(kind->extent, cell);
    }
    return sum;
}

/* A strip: its pieces are `count` entries of `pieces` from `first`. */
struct piece {
    int item;
    bool turned;
};

struct strip {
    int64_t rise, area;
    size_t first, count;
    bool done; /* in a final sheet */
};

struct mill {
    const struct problem *problem;
    int stock;
    bool upright;        /* strips run across the sheet */
    int64_t run, rise;   /* of the sheet */
    int64_t *wanted;
    struct meter *meter;
    struct dw_arena *arena;
    struct line *line;
    struct kind *all;    /* every item in every position, by falling rise, then run */
    size_t all_count;
    struct kind *kinds;  /* of the line being filled */
    struct strip *strips;
    size_t strip_count, strip_capacity;
    struct piece *pieces;
    size_t piece_count, piece_capacity;
};

static int compare_kinds(const void *left, const void *right)
{
    const struct kind *a = left;
    const struct kind *b = right;
    if (a->extent != b->extent)
        return a->extent < b->extent ? 1 : -1;
    return a->item != b->item ? (a->item > b->item) - (a->item < b->item) : a->turned - b->turned;
}

static void item_in_mill(const struct mill *mill, int index, bool turned, int64_t *run, int64_t *rise)
{
    const struct item *item = &mill->problem->items[index];
    const bool swap = turned != mill->upright;
    *run = swap ? item->width : item->length;
    *rise = swap ? item->length : item->width;
}

/* Tallest first, then longest, then by item. */
static int compare_positions(const void *left, const void *right)
{
    const struct kind *a = left;
    const struct kind *b = right;
    if (a->across != b->across)
        return a->across < b->across ? 1 : -1;
    return compare_kinds(left, right);
}

static void list_positions(struct mill *mill)
{
    const struct problem *problem = mill->problem;
    mill->all = dw_arena_alloc(mill->arena, 2 * (size_t)problem->item_count, sizeof *mill->all);
    for (int i = 0; i < problem->item_count; i++)
        for (int turned = 0; turned <= problem->items[i].turn; turned++) {
            struct kind kind = {.item = i, .turned = turned};
            item_in_mill(mill, i, turned, &kind.extent, &kind.across);
            if (kind.extent <= mill->run && kind.across <= mill->rise)
                mill->all[mill->all_count++] = kind;
        }
    qsort(mill->all, mill->all_count, sizeof *mill->all, compare_positions);
}

/* The kinds of pieces that have the rise of the position `from`, longest first, as far as they are wanted. Returns where the next rise
 * begins. */
static size_t gather_kinds(struct mill *mill, size_t from)
{
    size_t p = from;
    mill->line->count = 0;
    for (; p < mill->all_count && mill->all[p].across == mill->all[from].across; p++) {
        const int64_t left = mill->wanted[mill->all[p].item];
        if (left == 0 || mill->line->count == KINDS_MOST)
            continue;
        mill->kinds[mill->line->count] = mill->all[p];
        mill->kinds[mill->line->count++].left = left;
    }
    return p;
}

static void add_strip(struct mill *mill, int64_t rise)
{
    struct strip strip = {.rise = rise, .first = mill->piece_count};
    for (int k = 0; k < mill->line->count; k++) {
        struct kind *kind = &mill->kinds[k];
        kind->left -= kind->taken;
        mill->wanted[kind->item] -= kind->taken;
        strip.area += kind->taken * mill->problem->items[kind->item].area;
        for (int64_t n = 0; n < kind->taken; n++) {
            mill->pieces = dw_arena_grow(mill->arena, mill->pieces, mill->piece_count, &mill->piece_capacity, sizeof *mill->pieces);
            mill->pieces[mill->piece_count++] = (struct piece){kind->item, kind->turned};
        }
    }
    strip.count = mill->piece_count - strip.first;
    mill->strips = dw_arena_grow(mill->arena, mill->strips, mill->strip_count, &mill->strip_capacity, sizeof *mill->strips);
    mill->strips[mill->strip_count++] = strip;
}

static void mill_strips(struct mill *mill)
{
    mill->line->kinds = mill->kinds;
    mill->line->room = mill->run;
    for (size_t p = 0; p < mill->all_count && dwi_meter_open(mill->meter);) {
        const int64_t rise = mill->all[p].across;
        p = gather_kinds(mill, p);
        while (dwi_meter_open(mill->meter) && fill(mill->line, mill->meter) >= mill->run - mill->run / STRIP_LOSS)
            add_strip(mill, rise);
    }
}

/* Fullest first within a rise; the order of making decides between equals. */
static int compare_strips(const void *left, const void *right)
{
    const struct strip *a = left;
    const struct strip *b = right;
    if (a->rise != b->rise)
        return a->rise < b->rise ? 1 : -1;
    if (a->area != b->area)
        return a->area < b->area ? 1 : -1;
    return (a->first > b->first) - (a->first < b->first);
}

/* One kind for each rise, as often as strips of it are left. */
static int gather_rises(struct mill *mill)
{
    int count = 0;
    for (size_t s = 0; s < mill->strip_count; s++) {
        if (mill->strips[s].done)
            continue;
        if (count > 0 && mill->kinds[count - 1].extent == mill->strips[s].rise)
            mill->kinds[count - 1].left++;
        else if (count < KINDS_MOST)
            mill->kinds[count++] = (struct kind){.extent = mill->strips[s].rise, .left = 1, .rise = (int)s};
    }
    return count;
}

/* The first strip of a rise, from `from` on, that is in no sheet yet. */
static size_t next_strip(const struct mill *mill, size_t from)
{
    assert(mill->strips != NULL); /* a rise is that of a strip */
    while (mill->strips[from].done)
        from++;
    return from;
}

static int add_leaf(struct slice *nodes, int *count, const struct piece *piece)
{
    nodes[*count] = (struct slice){.kind = SLICE_ITEM, .item = piece->item, .turned = piece->turned};
    return (*count)++;
}

static int join(struct slice *nodes, int *count, enum slice_kind kind, int first, int second)
{
    if (first < 0)
        return second;
    nodes[*count] = (struct slice){.kind = kind, .first = first, .second = second};
    return (*count)++;
}

/* A sheet of the strips chosen, as a pattern. */
static const struct pattern *stack_strips(struct mill *mill, const size_t *chosen, size_t chosen_count)
{
    size_t leaves = 0;
    for (size_t c = 0; c < chosen_count; c++)
        leaves += mill->strips[chosen[c]].count;
    struct slice *nodes = dw_arena_alloc(mill->arena, 2 * leaves, sizeof *nodes);
    int count = 0;
    int stack = -1;
    for (size_t c = 0; c < chosen_count; c++) {
        const struct strip *strip = &mill->strips[chosen[c]];
        int row = -1;
        for (size_t p = strip->first; p < strip->first + strip->count; p++) {
            const int leaf = add_leaf(nodes, &count, &mill->pieces[p]);
            row = join(nodes, &count, mill->upright ? SLICE_UPON : SLICE_BESIDE, row, leaf);
        }
        stack = join(nodes, &count, mill->upright ? SLICE_BESIDE : SLICE_UPON, stack, row);
    }
    const struct pattern shape = {.stock = mill->stock, .node_count = count, .root = stack, .nodes = nodes};
    struct sheet sheet;
    dwi_sheet_init(&sheet, mill->problem, mill->stock);
    dwi_sheet_load(&sheet, &shape, mill->arena);
    return dwi_sheet_pattern(&sheet, mill->arena);
}

/* The strips that the line last filled takes; their area together. */
static int64_t choose_strips(struct mill *mill, size_t *chosen, size_t *chosen_count)
{
    int64_t area = 0;
    *chosen_count = 0;
    for (int k = 0; k < mill->line->count; k++) {
        size_t at = (size_t)mill->kinds[k].rise;
        for (int64_t n = 0; n < mill->kinds[k].taken; n++) {
            at = next_strip(mill, at);
            chosen[(*chosen_count)++] = at;
            area += mill->strips[at].area;
            mill->strips[at].done = true;
            at++;
        }
    }
    return area;
}

/* Stacks strips while that gives sheets all but full; the strips of the last attempt stay unused. */
static void mill_sheets(struct mill *mill, int64_t *left, struct draft *draft)
{
    const struct stock *stock = &mill->problem->stocks[mill->stock];
    size_t *chosen = dw_arena_alloc(mill->arena, mill->strip_count, sizeof *chosen);
    if (mill->strip_count > 0)
        qsort(mill->strips, mill->strip_count, sizeof *mill->strips, compare_strips);
    mill->line->room = mill->rise;
    while (left[mill->stock] > 0 && dwi_meter_open(mill->meter)) {
        size_t chosen_count;
        mill->line->count = gather_rises(mill);
        dwi_meter_spend(mill->meter, (int64_t)mill->strip_count);
        fill(mill->line, mill->meter);
        if (choose_strips(mill, chosen, &chosen_count) < stock->area - stock->area / SHEET_LOSS) {
            for (size_t c = 0; c < chosen_count; c++)
                mill->strips[chosen[c]].done = false;
            return;
        }
        dwi_draft_add(draft, mill->problem, stack_strips(mill, chosen, chosen_count), 1, mill->arena);
        left[mill->stock]--;
    }
}

static void give_back(struct mill *mill)
{
    for (size_t s = 0; s < mill->strip_count; s++)
        for (size_t p = 0; !mill->strips[s].done && p < mill->strips[s].count; p++)
            mill->wanted[mill->pieces[mill->strips[s].first + p].item]++;
}

void dwi_strips(const struct problem *problem, int stock, int64_t *wanted, int64_t *left, struct meter *meter,
                struct dw_arena *arena, struct draft *draft)
{
    const bool upright = problem->first_cut == DW_CROSSCUT;
    const struct stock *sheet = &problem->stocks[stock];
    struct mill mill = {
        .problem = problem,
        .stock = stock,
        .upright = upright,
        .run = upright ? sheet->width : sheet->length,
        .rise = upright ? sheet->length : sheet->width,
        .wanted = wanted,
        .meter = meter,
        .arena = arena,
        .line = dw_arena_alloc(arena, 1, sizeof *mill.line),
        .kinds = dw_arena_alloc(arena, KINDS_MOST, sizeof *mill.kinds),
    };
    list_positions(&mill);
    mill_strips(&mill);
    mill_sheets(&mill, left, draft);
    give_back(&mill);
}

/* The largest stock not filled yet; -1 when all are. */
static int largest_stock(const struct problem *problem, const bool *filled)
{
    int largest = -1;
    for (int s = 0; s < problem->stock_count; s++)
        if (!filled[s] && (largest < 0 || problem->stocks[s].area > problem->stocks[largest].area))
            largest = s;
    return largest;
}

void dwi_strips_within(const struct problem *problem, const int64_t *counts, struct meter *meter, struct dw_arena *arena,
                       struct draft *draft)
{
    int64_t *wanted = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *wanted);
    int64_t *left = dw_arena_copy(arena, counts, (size_t)problem->stock_count, sizeof *left);
    bool *filled = dw_arena_alloc(arena, (size_t)problem->stock_count, sizeof *filled);
    *draft = (struct draft){0};
    for (int i = 0; i < problem->item_count; i++)
        wanted[i] = problem->items[i].count;
    for (int s = largest_stock(problem, filled); s >= 0; s = largest_stock(problem, filled)) {
        filled[s] = true;
        if (left[s] > 0)
            dwi_strips(problem, s, wanted, left, meter, arena, draft);
    }
}
