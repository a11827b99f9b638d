/* cut_oracle.h - the least cost of a tiny cutting request by looking at every slicing tree.
 *
 * For each set of pieces (at most ORACLE_PIECES, so a set is a few bits) the smallest rectangles that hold exactly these, for each
 * direction of the first cuts and each number of stages: rows of a direction are put together from what the other direction made
 * with a stage less, one kerf between neighbors. Of rectangles only those are kept that no other of the set beats both ways.
 * Then the sheets are bought one by one: the least cost of each set, with one sheet more each round.
 * Nothing here is clever, and nothing is shared with the library: kerf, trim, turning, stages and stock are taken literally.
 *
 * The first cut follows the rule of the public header: a sheet is first cut as asked, or (an empty first stage) in the
 * other direction only.
 */
#ifndef DW_TESTS_CUT_ORACLE_H
#define DW_TESTS_CUT_ORACLE_H

#include <drawerwright/cutting.h>

#include <stdlib.h>
#include <string.h>

enum { ORACLE_PIECES = 6, ORACLE_SETS = 1 << ORACLE_PIECES, ORACLE_BOXES = 128, ORACLE_STAGES = 7 };

/* Sizes of one set, none beaten both ways. */
struct boxes {
    int count;
    dw_length length[ORACLE_BOXES], width[ORACLE_BOXES];
};

struct oracle {
    const struct dw_cut_request *request;
    int piece_count;
    size_t part_of[ORACLE_PIECES];
    struct boxes single[ORACLE_SETS];                    /* one piece, its orientations; empty for larger sets */
    struct boxes rows[ORACLE_STAGES + 1][2][ORACLE_SETS]; /* by stages and direction of the first cuts: two neighbors or more */
};

static inline void boxes_add(struct boxes *boxes, dw_length length, dw_length width)
{
    int kept = 0;
    for (int i = 0; i < boxes->count; i++) {
        if (boxes->length[i] <= length && boxes->width[i] <= width)
            return;
    }
    for (int i = 0; i < boxes->count; i++) {
        if (length <= boxes->length[i] && width <= boxes->width[i])
            continue;
        boxes->length[kept] = boxes->length[i];
        boxes->width[kept++] = boxes->width[i];
    }
    if (kept == ORACLE_BOXES)
        abort(); /* the instance is not tiny */
    boxes->length[kept] = length;
    boxes->width[kept] = width;
    boxes->count = kept + 1;
}

static inline void boxes_join(struct boxes *into, const struct boxes *from)
{
    for (int i = 0; i < from->count; i++)
        boxes_add(into, from->length[i], from->width[i]);
}

/* Every box of a beside every box of b (a crosscut between them) or upon it (a rip). */
static inline void boxes_pair(struct boxes *into, const struct boxes *a, const struct boxes *b, enum dw_cut cut, dw_length kerf)
{
    for (int i = 0; i < a->count; i++) {
        for (int j = 0; j < b->count; j++) {
            if (cut == DW_CROSSCUT)
                boxes_add(into, a->length[i] + kerf + b->length[j], dw_most(a->width[i], b->width[j]));
            else
                boxes_add(into, dw_most(a->length[i], b->length[j]), a->width[i] + kerf + b->width[j]);
        }
    }
}

/* What may lie in a row of direction `cut` when `stages` are left for the row and all within: a single piece (its last
 * trim is free), or a row of the other direction with a stage less. */
static inline void oracle_elements(const struct oracle *oracle, int stages, enum dw_cut cut, int set, struct boxes *into)
{
    *into = oracle->single[set];
    if (stages > 1)
        boxes_join(into, &oracle->rows[stages - 1][cut == DW_RIP ? DW_CROSSCUT : DW_RIP][set]);
}

static inline void oracle_row(struct oracle *oracle, int stages, enum dw_cut cut, int set)
{
    struct boxes *row = &oracle->rows[stages][cut][set];
    for (int first = (set - 1) & set; first > 0; first = (first - 1) & set) {
        struct boxes elements, rest;
        oracle_elements(oracle, stages, cut, first, &elements);
        oracle_elements(oracle, stages, cut, set & ~first, &rest);
        boxes_join(&rest, &oracle->rows[stages][cut][set & ~first]);
        boxes_pair(row, &elements, &rest, cut, oracle->request->kerf);
    }
}

static inline bool boxes_fit(const struct boxes *boxes, dw_length length, dw_length width)
{
    for (int i = 0; i < boxes->count; i++) {
        if (boxes->length[i] <= length && boxes->width[i] <= width)
            return true;
    }
    return false;
}

/* Layouts whose first counted cut is `cut`: a row of it, or one strip that a cut of it trims. */
static inline bool oracle_fits_first(const struct oracle *oracle, int set, dw_length length, dw_length width, int stages, enum dw_cut cut)
{
    const enum dw_cut other = cut == DW_RIP ? DW_CROSSCUT : DW_RIP;
    if (boxes_fit(&oracle->single[set], length, width) || boxes_fit(&oracle->rows[stages][cut][set], length, width))
        return true;
    if (stages < 2)
        return false;
    return boxes_fit(&oracle->rows[1][other][set], length, width) ||
           boxes_fit(&oracle->rows[stages - 1][other][set], cut == DW_RIP ? length : length - 1, cut == DW_RIP ? width - 1 : width);
}

static inline bool oracle_fits(const struct oracle *oracle, int set, size_t s)
{
    const struct dw_cut_sheet *sheet = &oracle->request->sheets[s];
    const dw_length length = sheet->length - sheet->trim[0] - sheet->trim[1];
    const dw_length width = sheet->width - sheet->trim[2] - sheet->trim[3];
    const int turns = oracle->request->turns;
    const int stages = turns == 0 ? ORACLE_STAGES : turns;
    if (oracle->request->first_cut >= 0)
        return oracle_fits_first(oracle, set, length, width, stages, (enum dw_cut)oracle->request->first_cut);
    return boxes_fit(&oracle->single[set], length, width) ||
           boxes_fit(&oracle->rows[stages][DW_RIP][set], length, width) ||
           boxes_fit(&oracle->rows[stages][DW_CROSSCUT][set], length, width);
}

static inline void oracle_pieces(struct oracle *oracle)
{
    for (size_t p = 0; p < oracle->request->part_count; p++) {
        const struct dw_cut_part *part = &oracle->request->parts[p];
        for (int64_t n = 0; n < part->count; n++) {
            if (oracle->piece_count == ORACLE_PIECES)
                abort();
            struct boxes *single = &oracle->single[1 << oracle->piece_count];
            boxes_add(single, part->length, part->width);
            if (part->turn)
                boxes_add(single, part->width, part->length);
            oracle->part_of[oracle->piece_count++] = p;
        }
    }
}

/* Of each set the sizes of its slicing trees. Free with free(). */
static inline struct oracle *oracle_make(const struct dw_cut_request *request)
{
    struct oracle *oracle = calloc(1, sizeof *oracle);
    oracle->request = request;
    oracle_pieces(oracle);
    for (int stages = 1; stages <= ORACLE_STAGES; stages++) {
        for (int set = 1; set < 1 << oracle->piece_count; set++) {
            oracle_row(oracle, stages, DW_RIP, set);
            oracle_row(oracle, stages, DW_CROSSCUT, set);
        }
    }
    return oracle;
}

/* One sheet s more: costs[set] falls where a part of the set goes on it. */
static inline void oracle_buy(const struct oracle *oracle, size_t s, dw_money *costs)
{
    const int sets = 1 << oracle->piece_count;
    dw_money before[ORACLE_SETS];
    memcpy(before, costs, sizeof before);
    for (int on = 1; on < sets; on++) {
        if (!oracle_fits(oracle, on, s))
            continue;
        for (int set = 1; set < sets; set++) {
            if ((set & on) != on || before[set & ~on] == INT64_MAX)
                continue;
            const dw_money cost = before[set & ~on] + oracle->request->sheets[s].price;
            costs[set] = cost < costs[set] ? cost : costs[set];
        }
    }
}

/* The least cost, or -1 when the sheets cannot hold the parts. */
static inline dw_money oracle_cost(const struct oracle *oracle)
{
    dw_money costs[ORACLE_SETS];
    for (int set = 0; set < ORACLE_SETS; set++)
        costs[set] = set == 0 ? 0 : INT64_MAX;
    for (size_t s = 0; s < oracle->request->sheet_count; s++) {
        const int64_t count = oracle->request->sheets[s].count;
        const int64_t times = count < 0 || count > oracle->piece_count ? oracle->piece_count : count;
        for (int64_t n = 0; n < times; n++)
            oracle_buy(oracle, s, costs);
    }
    const dw_money least = costs[(1 << oracle->piece_count) - 1];
    return least == INT64_MAX ? -1 : least;
}

/* The most value that one sheet s can hold, u[part] for each piece. */
static inline int64_t oracle_value(const struct oracle *oracle, size_t s, const int64_t *u)
{
    int64_t most = 0;
    for (int set = 1; set < 1 << oracle->piece_count; set++) {
        int64_t value = 0;
        for (int i = 0; i < oracle->piece_count; i++)
            value += (set >> i & 1) != 0 ? u[oracle->part_of[i]] : 0;
        if (value > most && oracle_fits(oracle, set, s))
            most = value;
    }
    return most;
}

#endif
