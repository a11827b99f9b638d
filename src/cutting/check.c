/* check.c - the checker: everything about a plan again, from the request alone.
 *
 * It shares no code and no private header with the optimizer, and it believes no number of the plan. A walk down each
 * tree of cuts shows that every piece lies where parallel cuts of one kerf put it (so nothing overlaps or leaves its
 * sheet), that a part is exactly its size and turned only where it may be, and that an offcut is kept only where it is
 * worth it. What the walks saw is then held against the counts wanted, the sheets there are, and the cost.
 *
 * Turns. The cuts of a tree fall into stages: a cut opens a new stage where its direction differs from that of the
 * cut it comes from. A last trimming cut (one part, and otherwise only waste or offcuts) opens none; neither do the edge trims,
 * which are outside the tree. A sheet whose counted cuts all run the other way than the first cut asked for has an empty first stage,
 * and that stage counts: a part as wide as its sheet needs no rip.
 *
 * The bound is checked in check_bound.c, which says what is proved again there and what is not.
 * Integers: no length of a sound request is over DW_LENGTH_MAX; the plan's own may be anything and are compared by
 * subtracting only once they are known to be in that range.
 */
#include "check.h"

#include <inttypes.h>
#include <stdarg.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { DEEPEST = 4000 }; /* cuts within cuts; far beyond any saw */

/* Where in the plan the walk stands, for addresses. The root of layout `index` has no parent. */
struct place {
    const struct place *parent;
    size_t index;
    int depth;
};

/* A walk over one layout, and what it gathers. */
struct walk {
    const struct check *check;
    struct holdings *held;
    bool too_deep;
};

static void add_place(struct dw_text *text, const struct place *place)
{
    if (place->parent == NULL) {
        dw_text_addf(text, "layouts[%zu].root", place->index);
        return;
    }
    add_place(text, place->parent);
    dw_text_addf(text, ".pieces[%zu]", place->index);
}

void dwi_check_breach(const struct check *check, const char *code, const char *address, const char *format, ...)
{
    struct dw_text text = dw_text_in(check->arena);
    va_list arguments;
    va_start(arguments, format);
    dw_text_addv(&text, format, arguments);
    va_end(arguments);
    dw_error(check->faults, DW_PROGRAM, code, address, "%s", text.bytes);
}

static void breach(const struct walk *walk, const struct place *place, const char *code, const char *what)
{
    struct dw_text address = dw_text_in(walk->check->arena);
    add_place(&address, place);
    dwi_check_breach(walk->check, code, address.bytes, "%s", what);
}

/* A node's extent along the direction in which its cuts divide it, and across that. */
struct extent {
    dw_length start, size;
    dw_length across_start, across_size;
};

static struct extent extent_of(const struct dw_cut_node *node, enum dw_cut cut)
{
    if (cut == DW_CROSSCUT)
        return (struct extent){node->x, node->length, node->y, node->width};
    return (struct extent){node->y, node->width, node->x, node->length};
}

static bool is_measurable(const struct dw_cut_node *node)
{
    return node->x >= 0 && node->x <= DW_LENGTH_MAX && node->y >= 0 && node->y <= DW_LENGTH_MAX && node->length > 0 &&
           node->length <= DW_LENGTH_MAX && node->width > 0 && node->width <= DW_LENGTH_MAX;
}

/* The pieces of a cut fill their parent from the low edge, one kerf between neighbors; what is left past the last one
 * is a kerf at most. With each piece's own walk this gives: inside, apart, and cut through. */
static void check_pieces(const struct walk *walk, const struct place *place, const struct dw_cut_node *node)
{
    const dw_length kerf = walk->check->request->kerf;
    const struct extent whole = extent_of(node, node->cut);
    const dw_length end = whole.start + whole.size; /* both in range */
    dw_length next = whole.start;
    for (size_t i = 0; i < node->piece_count; i++) {
        const struct place spot = {place, i, place->depth + 1};
        if (!is_measurable(&node->pieces[i]))
            return; /* its own walk says so */
        const struct extent piece = extent_of(&node->pieces[i], node->cut);
        if (piece.start != next)
            breach(walk, &spot, "piece-apart", i == 0 ? "the first piece does not start at the edge of what it is cut from"
                                                      : "the piece is not one kerf from its neighbor");
        if (piece.across_start != whole.across_start || piece.across_size != whole.across_size)
            breach(walk, &spot, "piece-across", "the piece does not reach from edge to edge of what it is cut from");
        if (piece.size > end - piece.start)
            breach(walk, &spot, "piece-outside", "the piece is outside of what it is cut from");
        next = piece.start + piece.size + kerf;
    }
    const dw_length rest = end - (next - kerf);
    if (rest > kerf)
        breach(walk, place, "rest-wide", "more than a kerf is left past the last piece");
    if (node->piece_count == 1 && rest == 0)
        breach(walk, place, "cut-idle", "the cut takes nothing off");
}

static void hold(const struct walk *walk, size_t part)
{
    struct holdings *held = walk->held;
    held->parts = dw_arena_grow(walk->check->arena, held->parts, held->count, &held->capacity, sizeof *held->parts);
    held->parts[held->count++] = part;
}

static void check_part(const struct walk *walk, const struct place *place, const struct dw_cut_node *node)
{
    const struct dw_cut_request *request = walk->check->request;
    if (node->part >= request->part_count) {
        breach(walk, place, "part-unknown", "there is no such part");
        return;
    }
    const struct dw_cut_part *part = &request->parts[node->part];
    hold(walk, node->part);
    if (node->turned && !part->turn)
        breach(walk, place, "part-turned", "the part is turned and must not be");
    if (node->length != (node->turned ? part->width : part->length) ||
        node->width != (node->turned ? part->length : part->width))
        breach(walk, place, "part-size", "the piece is not exactly the size of its part");
}

static void check_kept(const struct walk *walk, const struct place *place, const struct dw_cut_node *node)
{
    const struct dw_cut_keep *keep = &walk->check->request->keep;
    if (keep->least_length == 0 && keep->least_width == 0)
        breach(walk, place, "offcut-unasked", "an offcut is kept though none is to be");
    else if (dw_most(node->length, node->width) < keep->least_length || dw_least(node->length, node->width) < keep->least_width)
        breach(walk, place, "offcut-small", "the offcut is too small to keep");
}

static void check_node(struct walk *walk, const struct place *place, const struct dw_cut_node *node)
{
    if (!is_measurable(node)) {
        breach(walk, place, "piece-size", "the piece has no size, or one beyond any sheet");
        return;
    }
    switch (node->use) {
    case DW_NODE_PART:
        check_part(walk, place, node);
        return;
    case DW_NODE_KEEP:
        check_kept(walk, place, node);
        return;
    case DW_NODE_WASTE:
        return;
    case DW_NODE_CUT:
        break;
    default:
        breach(walk, place, "piece-use", "the piece has no use that is known");
        return;
    }
    if (node->piece_count == 0 || node->pieces == NULL || (node->cut != DW_RIP && node->cut != DW_CROSSCUT)) {
        breach(walk, place, "cut-empty", "the cut has no pieces or no direction");
        return;
    }
    if (place->depth >= DEEPEST) {
        breach(walk, place, "cut-deep", "the cuts are nested too deep to be checked");
        walk->too_deep = true;
        return;
    }
    check_pieces(walk, place, node);
    for (size_t i = 0; i < node->piece_count; i++)
        check_node(walk, &(struct place){place, i, place->depth + 1}, &node->pieces[i]);
}

/* One part, and otherwise only what is not cut further. */
static bool is_last_trim(const struct dw_cut_node *node)
{
    size_t parts = 0;
    for (size_t i = 0; i < node->piece_count; i++) {
        if (node->pieces[i].use == DW_NODE_CUT)
            return false;
        parts += node->pieces[i].use == DW_NODE_PART;
    }
    return parts == 1;
}

static bool is_counted(const struct dw_cut_node *node)
{
    return node->use == DW_NODE_CUT && !is_last_trim(node);
}

/* Stages of the cuts from `node` down, after a cut of direction `above` (-1: none). */
static int stages(const struct dw_cut_node *node, int above)
{
    if (!is_counted(node))
        return 0;
    int most = 0;
    for (size_t i = 0; i < node->piece_count; i++) {
        const int below = stages(&node->pieces[i], (int)node->cut);
        most = below > most ? below : most;
    }
    return most + ((int)node->cut != above);
}

static bool has_cut(const struct dw_cut_node *node, enum dw_cut cut)
{
    if (!is_counted(node))
        return false;
    bool found = node->cut == cut;
    for (size_t i = 0; i < node->piece_count && !found; i++)
        found = has_cut(&node->pieces[i], cut);
    return found;
}

static void check_stages(const struct walk *walk, const struct place *place, const struct dw_cut_node *root)
{
    const struct dw_cut_request *request = walk->check->request;
    if (!is_counted(root))
        return;
    const bool other_way = request->first_cut >= 0 && (int)root->cut != request->first_cut;
    if (other_way && has_cut(root, (enum dw_cut)request->first_cut))
        breach(walk, place, "first-cut", "the first cut is not of the kind asked for");
    if (request->turns > 0 && stages(root, -1) + other_way > request->turns)
        breach(walk, place, "turns-over", "the cuts change direction more often than allowed");
}

static void check_root(const struct walk *walk, const struct place *place, const struct dw_cut_layout *layout)
{
    const struct dw_cut_sheet *sheet = &walk->check->request->sheets[layout->sheet];
    const struct dw_cut_node *root = &layout->root;
    if (root->x != sheet->trim[0] || root->y != sheet->trim[2] ||
        root->length != sheet->length - sheet->trim[0] - sheet->trim[1] ||
        root->width != sheet->width - sheet->trim[2] - sheet->trim[3])
        breach(walk, place, "root-size", "the layout is not the sheet less its trim");
}

static void check_layout(const struct check *check, size_t l, struct holdings *held)
{
    const struct dw_cut_layout *layout = &check->plan->layouts[l];
    const struct place place = {NULL, l, 0};
    struct walk walk = {.check = check, .held = held};
    const size_t before = held->count;
    if (layout->times < 1)
        breach(&walk, &place, "layout-times", "the layout is used less than once");
    if (layout->sheet >= check->request->sheet_count) {
        breach(&walk, &place, "sheet-unknown", "there is no such sheet");
        return;
    }
    check_root(&walk, &place, layout);
    check_node(&walk, &place, &layout->root);
    if (!walk.too_deep)
        check_stages(&walk, &place, &layout->root);
    if (held->count == before)
        breach(&walk, &place, "layout-empty", "a sheet is used and no part is cut from it");
}

static int64_t times_of(const struct dw_cut_layout *layout)
{
    return layout->times < 0 ? 0 : layout->times;
}

static void check_part_counts(const struct check *check, const struct holdings *held)
{
    const struct dw_cut_request *request = check->request;
    int64_t *made = dw_arena_alloc(check->arena, request->part_count, sizeof *made);
    size_t piece = 0;
    for (size_t l = 0; l < check->plan->layout_count; l++) {
        for (; piece < held->ends[l]; piece++)
            made[held->parts[piece]] = dwi_check_add(made[held->parts[piece]], times_of(&check->plan->layouts[l]));
    }
    for (size_t p = 0; p < request->part_count; p++) {
        if (made[p] != request->parts[p].count)
            dwi_check_breach(check, "part-count", dw_arena_format(check->arena, "parts[%zu]", p),
                             "%" PRId64 " are cut and %" PRId64 " are wanted", made[p], request->parts[p].count);
    }
}

static void check_sheets_and_cost(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    int64_t *used = dw_arena_alloc(check->arena, request->sheet_count, sizeof *used);
    dw_money cost = 0;
    for (size_t l = 0; l < check->plan->layout_count; l++) {
        const struct dw_cut_layout *layout = &check->plan->layouts[l];
        if (layout->sheet >= request->sheet_count)
            continue;
        used[layout->sheet] = dwi_check_add(used[layout->sheet], times_of(layout));
        cost = dwi_check_add(cost, dwi_check_multiply(times_of(layout), request->sheets[layout->sheet].price));
    }
    for (size_t s = 0; s < request->sheet_count; s++) {
        if (request->sheets[s].count >= 0 && used[s] > request->sheets[s].count)
            dwi_check_breach(check, "sheet-count", dw_arena_format(check->arena, "sheets[%zu]", s),
                             "%" PRId64 " are used and there are %" PRId64, used[s], request->sheets[s].count);
    }
    if (cost != check->plan->cost)
        dwi_check_breach(check, "cost", "cost", "the sheets cost %" PRId64 " and the plan says %" PRId64, cost,
                         check->plan->cost);
}

static void check_plan(const struct check *check)
{
    const size_t layout_count = check->plan->layout_count;
    const size_t before = check->faults->errors;
    struct holdings held = {.ends = dw_arena_alloc(check->arena, layout_count, sizeof *held.ends)};
    for (size_t l = 0; l < layout_count; l++) {
        check_layout(check, l, &held);
        held.ends[l] = held.count;
    }
    check_part_counts(check, &held);
    check_sheets_and_cost(check);
    if (check->plan->lower_bound > check->plan->cost || check->plan->lower_bound < 0)
        dwi_check_breach(check, "bound-range", "lower_bound", "the bound %" PRId64 " is not from 0 to the cost of %" PRId64,
                         check->plan->lower_bound, check->plan->cost);
    if (check->plan->proved != (check->plan->lower_bound == check->plan->cost))
        dwi_check_breach(check, "proved", "proved", "a plan is proved when its cost is its bound, and only then");
    if (check->faults->errors == before)
        dwi_check_bound(check, &held);
}

static void check_body(void *context)
{
    const struct check *check = context;
    const struct dw_cut_plan *plan = check->plan;
    switch (plan->outcome) {
    case DW_CUT_PLAN:
        if (plan->layout_count == 0 || plan->layouts == NULL)
            dwi_check_breach(check, "plan-empty", "layouts", "the plan has no layout");
        else
            check_plan(check);
        return;
    case DW_CUT_IMPOSSIBLE:
    case DW_CUT_NONE_FOUND:
        if (plan->layout_count != 0 || plan->proved)
            dwi_check_breach(check, "outcome", "outcome", "there is a layout, or a proof of cost, where no plan was found");
        return;
    default:
        dwi_check_breach(check, "outcome", "outcome", "the outcome is none that is known");
    }
}

bool dw_cut_check(const struct dw_cut_request *request, const struct dw_cut_plan *plan, struct dw_faults *faults)
{
    if (!dw_cut_check_request(request, faults))
        return false;
    const size_t before = faults->errors;
    struct check check = {.request = request, .plan = plan, .faults = faults, .arena = dw_arena_new()};
    if (check.arena == NULL || !dw_arena_guard(check.arena, check_body, &check))
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the plan was checked");
    dw_arena_free(check.arena);
    return faults->errors == before;
}
