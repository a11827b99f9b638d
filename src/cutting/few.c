/* few.c - can a handful of pieces be cut from what is in stock at all? By trying everything.
 *
 * Problem: at most MOST_PIECES pieces, counted sheets. Rows on sheet counts relax layouts and so may miss that a job cannot be done:
 * the five pieces of a pinwheel fill their sheet, but no through cut makes them.
 *
 * Model: for every set of pieces, the sizes that a slicing tree of exactly these pieces can have, those within which no other lies. A set's trees
 * join the trees of two parts of it, side by side or upon each other (3^n pairs of parts). A set goes on a stock when one of its sizes
 * fits. Then sheet by sheet: which sets can be cut from the sheets so far (again 3^n steps a sheet).
 *
 * Proved: with cuts of any stages and any first cut; a limit of stages allows fewer layouts, so "cannot" stays true.
 */
#include "prove.h"

#include <drawerwright/memory.h>

enum { MOST_PIECES = 8, SETS = 1 << MOST_PIECES };

struct size {
    int64_t length, width;
};

struct few {
    const struct problem *problem;
    struct dw_arena *arena;
    int pieces;
    int64_t most_length, most_width; /* of any stock */
    struct size *sizes[SETS];
    size_t size_count[SETS], capacity[SETS];
};

/* Keeps a size of a set unless another lies within it; drops those that it lies within. */
static void keep_size(struct few *few, int set, int64_t length, int64_t width)
{
    if (length > few->most_length || width > few->most_width)
        return;
    size_t kept = 0;
    for (size_t k = 0; k < few->size_count[set]; k++) {
        const struct size size = few->sizes[set][k];
        if (size.length <= length && size.width <= width)
            return; /* then none was dropped before, as no two of the list lie within each other */
        if (size.length < length || size.width < width)
            few->sizes[set][kept++] = size;
    }
    few->sizes[set] = dw_arena_grow(few->arena, few->sizes[set], kept, &few->capacity[set], sizeof *few->sizes[set]);
    few->sizes[set][kept] = (struct size){length, width};
    few->size_count[set] = kept + 1;
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

static void join(struct few *few, int first, int second)
{
    for (size_t a = 0; a < few->size_count[first]; a++)
        for (size_t b = 0; b < few->size_count[second]; b++) {
            const struct size one = few->sizes[first][a], other = few->sizes[second][b];
            keep_size(few, first | second, one.length + other.length, larger(one.width, other.width));
            keep_size(few, first | second, larger(one.length, other.length), one.width + other.width);
        }
}

static void list_pieces(struct few *few)
{
    for (int i = 0; i < few->problem->item_count; i++)
        for (int64_t n = 0; n < few->problem->items[i].count; n++) {
            const struct item *item = &few->problem->items[i];
            const int set = 1 << few->pieces++;
            keep_size(few, set, item->length, item->width);
            if (item->turn)
                keep_size(few, set, item->width, item->length);
        }
}

/* Sets in rising order: a set's parts are smaller numbers. Each pair of parts is met once. */
static void find_sizes(struct few *few)
{
    list_pieces(few);
    for (int set = 1; set < 1 << few->pieces; set++)
        for (int part = (set - 1) & set; part > set - part; part = (part - 1) & set)
            join(few, part, set - part);
}

static bool goes_on(const struct few *few, int set, const struct stock *stock)
{
    for (size_t k = 0; k < few->size_count[set]; k++)
        if (few->sizes[set][k].length <= stock->length && few->sizes[set][k].width <= stock->width)
            return true;
    return false;
}

/* One more sheet: the sets that can be cut now. Falling order, so that the sheet is used once. */
static void cut_sheet(const bool *fits, int sets, bool *cut)
{
    for (int set = sets - 1; set > 0; set--)
        for (int part = set; part > 0 && !cut[set]; part = (part - 1) & set)
            cut[set] = fits[part] && cut[set - part];
}

static bool can_be_cut(const struct few *few)
{
    const int sets = 1 << few->pieces;
    bool cut[SETS] = {true};
    for (int s = 0; s < few->problem->stock_count; s++) {
        const struct stock *stock = &few->problem->stocks[s];
        bool fits[SETS] = {false};
        for (int set = 1; set < sets; set++)
            fits[set] = goes_on(few, set, stock);
        for (int64_t n = 0; n < stock->count && n < few->pieces; n++)
            cut_sheet(fits, sets, cut);
    }
    return cut[sets - 1];
}

bool dwi_few_impossible(const struct problem *problem, struct dw_arena *arena)
{
    if (problem->piece_count > MOST_PIECES)
        return false;
    struct dw_arena *scratch = dw_arena_child(arena);
    struct few *few = dw_arena_alloc(scratch, 1, sizeof *few);
    *few = (struct few){.problem = problem, .arena = scratch};
    for (int s = 0; s < problem->stock_count; s++) {
        few->most_length = larger(few->most_length, problem->stocks[s].length);
        few->most_width = larger(few->most_width, problem->stocks[s].width);
    }
    find_sizes(few);
    const bool impossible = !can_be_cut(few);
    dw_arena_free(scratch);
    return impossible;
}
