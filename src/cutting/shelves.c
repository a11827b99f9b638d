/* shelves.c - a plan at once, by shelves.
 *
 * Problem: a hundred thousand kinds, or a million crumbs, leave the other methods no time for even one plan. This makes one in
 * about a pass over the kinds: so that every request which has a plain plan gets some plan.
 *
 * Method: next fit by decreasing rise. A shelf runs along the sheet (across it where crosscuts come first); what opens it sets its
 * rise, and the next kinds in order fill it, each with as many pieces as fit. A shelf is repeated while its pieces last, and
 * so is a sheet. The next sheet is the cheapest for its area that holds the tallest item left. Two stages and a last trim, the first
 * cut as asked: right under every limit of turns. After Coffman, Garey, Johnson & Tarjan, "Performance bounds for
 * level-oriented two-dimensional packing algorithms", SIAM J. Computing 9 (1980).
 *
 * Trees are built balanced, for some walk them by recursion. Cost: LOOK kinds a shelf, a few steps a piece. Heuristic.
 */
#include "shelves.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

enum { LOOK = 48, TICKS_A_LOOK = 4, TICKS_A_PIECE = 40 };

__extension__ typedef __int128 wide; /* a price times an area */

/* An item as it lies on its shelf. */
struct lying {
    int item;
    bool turned;
    int64_t run, rise; /* along the shelf and across it */
};

struct shelving {
    const struct problem *problem;
    struct dw_arena *arena;
    struct lying *order;  /* the usual position of each item, tallest first */
    int *skip;            /* from a place in the order to one that may still be wanted, at it or behind */
    int64_t *wanted;      /* of each item */
    int64_t *left;        /* of each stock */
    int64_t ticks;
};

/* The sheet in the making. */
struct shelf_sheet {
    int stock;
    int64_t run, rise;    /* room on a shelf; room for further shelves */
    struct slice *nodes;
    size_t count, capacity;
    int *shelves;         /* roots */
    size_t shelf_count, shelf_capacity;
    int *leaves;          /* of the shelf in the making */
    size_t leaf_count, leaf_capacity;
};

/* Shelves stand upon each other, or beside each other where crosscuts come first. */
static bool is_upright(const struct problem *problem)
{
    return problem->first_cut == DW_CROSSCUT;
}

static struct lying lay(const struct problem *problem, int item, bool turned)
{
    const struct item *it = &problem->items[item];
    const bool swap = turned != is_upright(problem);
    return (struct lying){item, turned, swap ? it->width : it->length, swap ? it->length : it->width};
}

static int64_t stock_run(const struct problem *problem, int s)
{
    return is_upright(problem) ? problem->stocks[s].width : problem->stocks[s].length;
}

static int64_t stock_rise(const struct problem *problem, int s)
{
    return is_upright(problem) ? problem->stocks[s].length : problem->stocks[s].width;
}

/* The item in its usual position, or else turned, where that fits; false when neither does. */
static bool lay_within(const struct problem *problem, struct lying usual, int64_t run, int64_t rise, struct lying *lying)
{
    *lying = usual;
    if (usual.run <= run && usual.rise <= rise)
        return true;
    *lying = lay(problem, usual.item, !usual.turned);
    return problem->items[usual.item].turn && lying->run <= run && lying->rise <= rise;
}

/* Tallest first, then longest, then by item. */
static int compare_lying(const void *left, const void *right)
{
    const struct lying *a = left;
    const struct lying *b = right;
    if (a->rise != b->rise)
        return a->rise < b->rise ? 1 : -1;
    if (a->run != b->run)
        return a->run < b->run ? 1 : -1;
    return (a->item > b->item) - (a->item < b->item);
}

static void start(struct shelving *shelving)
{
    const struct problem *problem = shelving->problem;
    const size_t items = (size_t)problem->item_count;
    shelving->order = dw_arena_alloc(shelving->arena, items, sizeof *shelving->order);
    shelving->skip = dw_arena_alloc(shelving->arena, items + 1, sizeof *shelving->skip);
    shelving->wanted = dw_arena_alloc(shelving->arena, items, sizeof *shelving->wanted);
    shelving->left = dw_arena_alloc(shelving->arena, (size_t)problem->stock_count, sizeof *shelving->left);
    for (int i = 0; i < problem->item_count; i++) {
        const struct lying lying = lay(problem, i, false);
        const bool turned = problem->items[i].turn && lying.run < lying.rise; /* the longer side along the shelf */
        shelving->order[i] = turned ? lay(problem, i, true) : lying;
        shelving->wanted[i] = problem->items[i].count;
    }
    qsort(shelving->order, items, sizeof *shelving->order, compare_lying);
    for (int place = 0; place <= problem->item_count; place++)
        shelving->skip[place] = place;
    for (int s = 0; s < problem->stock_count; s++)
        shelving->left[s] = problem->stocks[s].count;
}

/* The first place at or behind `place` whose item is still wanted; item_count when there is none. Shortens the way for the next
 * who asks. */
static int next_wanted(struct shelving *shelving, int place)
{
    int at = place;
    while (at < shelving->problem->item_count && shelving->wanted[shelving->order[at].item] == 0)
        at = shelving->skip[at] > at ? shelving->skip[at] : at + 1;
    if (place < at)
        shelving->skip[place] = at;
    return at;
}

/* The first place in the order whose usual rise is at most `rise`. */
static int place_of_rise(const struct shelving *shelving, int64_t rise)
{
    int low = 0, high = shelving->problem->item_count;
    while (low < high) {
        const int middle = low + (high - low) / 2;
        if (shelving->order[middle].rise > rise)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The cheapest stock for its area that has sheets left and holds the item; -1 when there is none. */
static int choose_stock(const struct shelving *shelving, struct lying usual)
{
    const struct problem *problem = shelving->problem;
    int best = -1;
    for (int s = 0; s < problem->stock_count; s++) {
        struct lying lying;
        if (shelving->left[s] == 0 || !lay_within(problem, usual, stock_run(problem, s), stock_rise(problem, s), &lying))
            continue;
        const struct stock *stock = &problem->stocks[s];
        if (best < 0 || (wide)stock->price * problem->stocks[best].area < (wide)problem->stocks[best].price * stock->area)
            best = s;
    }
    return best;
}

static int add_node(struct shelving *shelving, struct shelf_sheet *sheet, struct slice slice)
{
    sheet->nodes = dw_arena_grow(shelving->arena, sheet->nodes, sheet->count, &sheet->capacity, sizeof *sheet->nodes);
    sheet->nodes[sheet->count] = slice;
    return (int)sheet->count++;
}

/* Joins the nodes named in list[0 .. count-1] by nodes of `kind`, halves first. Returns the root. */
static int join(struct shelving *shelving, struct shelf_sheet *sheet, const int *list, size_t count, enum slice_kind kind)
{
    if (count == 1)
        return list[0];
    const int first = join(shelving, sheet, list, count / 2, kind);
    const int second = join(shelving, sheet, list + count / 2, count - count / 2, kind);
    return add_node(shelving, sheet, dwi_slice_join(kind, first, second, sheet->nodes));
}

/* Sets pieces of one item on the shelf, as many as fit `run` and are wanted. Returns the run that they take. */
static int64_t set_pieces(struct shelving *shelving, struct shelf_sheet *sheet, struct lying lying, int64_t run)
{
    const struct item *item = &shelving->problem->items[lying.item];
    int64_t pieces = run / lying.run;
    if (pieces > shelving->wanted[lying.item])
        pieces = shelving->wanted[lying.item];
    for (int64_t n = 0; n < pieces; n++) {
        sheet->leaves = dw_arena_grow(shelving->arena, sheet->leaves, sheet->leaf_count, &sheet->leaf_capacity, sizeof *sheet->leaves);
        sheet->leaves[sheet->leaf_count++] =
            add_node(shelving, sheet, (struct slice){.kind = SLICE_ITEM, .item = lying.item, .turned = lying.turned,
                                                     .length = lying.turned ? item->width : item->length,
                                                     .width = lying.turned ? item->length : item->width});
    }
    shelving->wanted[lying.item] -= pieces;
    shelving->ticks += pieces * TICKS_A_PIECE;
    return pieces * lying.run;
}

/* One more shelf; false when nothing that is wanted opens one. */
static bool add_shelf(struct shelving *shelving, struct shelf_sheet *sheet)
{
    const struct problem *problem = shelving->problem;
    int64_t rise = sheet->rise, run = sheet->run;
    sheet->leaf_count = 0;
    int place = next_wanted(shelving, sheet->shelf_count == 0 ? 0 : place_of_rise(shelving, rise));
    for (int looks = 0; looks < LOOK && place < problem->item_count; looks++) {
        struct lying lying;
        if (lay_within(problem, shelving->order[place], run, rise, &lying)) {
            if (sheet->leaf_count == 0)
                rise = lying.rise;
            run -= set_pieces(shelving, sheet, lying, run);
        }
        place = next_wanted(shelving, place + 1);
        shelving->ticks += TICKS_A_LOOK;
    }
    if (sheet->leaf_count == 0)
        return false;
    const enum slice_kind along = is_upright(problem) ? SLICE_UPON : SLICE_BESIDE;
    sheet->shelves = dw_arena_grow(shelving->arena, sheet->shelves, sheet->shelf_count, &sheet->shelf_capacity, sizeof *sheet->shelves);
    sheet->shelves[sheet->shelf_count++] = join(shelving, sheet, sheet->leaves, sheet->leaf_count, along);
    sheet->rise -= rise;
    return true;
}

static const struct pattern *pattern_of(struct shelving *shelving, struct shelf_sheet *sheet)
{
    const struct problem *problem = shelving->problem;
    struct pattern *pattern = dw_arena_alloc(shelving->arena, 1, sizeof *pattern);
    int32_t *counts = dw_arena_alloc(shelving->arena, (size_t)problem->item_count, sizeof *counts);
    pattern->root = join(shelving, sheet, sheet->shelves, sheet->shelf_count, is_upright(problem) ? SLICE_BESIDE : SLICE_UPON);
    for (size_t n = 0; n < sheet->count; n++) {
        if (sheet->nodes[n].kind != SLICE_ITEM)
            continue;
        counts[sheet->nodes[n].item]++;
        pattern->area += problem->items[sheet->nodes[n].item].area;
    }
    pattern->stock = sheet->stock;
    pattern->nodes = sheet->nodes;
    pattern->node_count = (int)sheet->count;
    pattern->counts = counts;
    return pattern;
}

/* Uses the layout once, its pieces being taken already, and as often again as pieces and sheets last. */
static void use(struct shelving *shelving, const struct pattern *pattern, struct draft *draft)
{
    const struct problem *problem = shelving->problem;
    int64_t again = shelving->left[pattern->stock] - 1;
    for (int i = 0; i < problem->item_count; i++) {
        if (pattern->counts[i] > 0 && shelving->wanted[i] / pattern->counts[i] < again)
            again = shelving->wanted[i] / pattern->counts[i];
    }
    for (int i = 0; i < problem->item_count; i++)
        shelving->wanted[i] -= again * pattern->counts[i];
    shelving->left[pattern->stock] -= again + 1;
    dwi_draft_add(draft, problem, pattern, again + 1, shelving->arena);
}

bool dwi_shelves(const struct problem *problem, struct meter *meter, struct dw_arena *arena, struct draft *draft)
{
    struct shelving shelving = {.problem = problem, .arena = arena};
    start(&shelving);
    *draft = (struct draft){0};
    for (int place = next_wanted(&shelving, 0); place < problem->item_count; place = next_wanted(&shelving, place)) {
        struct shelf_sheet sheet = {.stock = choose_stock(&shelving, shelving.order[place])};
        if (sheet.stock < 0)
            return false;
        sheet.run = stock_run(problem, sheet.stock);
        sheet.rise = stock_rise(problem, sheet.stock);
        while (add_shelf(&shelving, &sheet))
            continue;
        use(&shelving, pattern_of(&shelving, &sheet), draft);
    }
    dwi_meter_spend(meter, shelving.ticks);
    return true;
}
