/* plan_write.c - from slicing trees back to real cuts.
 *
 * A slicing tree says which sub-layouts lie side by side; the public tree says where each cut is. In between:
 *   - kerf: a node of grown extent e (scaled) is e * scale - kerf long; neighbors are one kerf apart;
 *   - flattening: nested nodes of one kind are one row of parallel cuts, sorted so that equal pieces are neighbors and
 *     their settings come once;
 *   - waste: each row carries its waste at its far end, in one piece. What the whole layout leaves free across its first row
 *     is taken off in a cut of its own where the stages allow, so that it stays whole;
 *   - trimming: a part smaller than its region is cut off the region's low corner.
 * Which part of the request a leaf becomes: leaves take the parts of their item in the request's order, layout after
 * layout; a layout used many times is split where one of its parts runs out.
 *
 * Coordinates run from the low corner of the trimmed sheet. Invariant: a node's region holds its tree, and across the
 * direction of a row every piece has the region's full extent.
 */
#include "slicing.h"

#include <stdlib.h>

#include <drawerwright/memory.h>

/* A rectangle of the real sheet. */
struct region {
    dw_length x, y, length, width;
};

/* Hands out the parts of each item in order. */
struct dealer {
    const struct problem *problem;
    size_t *part;     /* of each item: the part handed out now */
    size_t *next;     /* of each part: the next of the same item; part_count when it is the last */
    int64_t *left;    /* of that part; NULL: parts are inexhaustible */
};

struct writer {
    const struct problem *problem;
    struct dw_arena *arena;
    const struct pattern *pattern;
    struct dealer *dealer;
    int *stack; /* for gathering a row: as many as the pattern has nodes */
};

static dw_length real(const struct problem *problem, int64_t grown)
{
    return grown * problem->scale - problem->request->kerf;
}

static void next_part(struct dealer *dealer, int item, size_t part)
{
    const struct dw_cut_request *request = dealer->problem->request;
    dealer->part[item] = part;
    dealer->left[item] = part < request->part_count ? request->parts[part].count : 0;
}

static size_t deal(struct dealer *dealer, int item)
{
    const size_t part = dealer->part[item];
    if (dealer->left != NULL && --dealer->left[item] == 0)
        next_part(dealer, item, dealer->next[part]);
    return part;
}

/* How many layouts in a row can be dealt alike: at least 1. */
static int64_t alike(const struct dealer *dealer, const struct pattern *pattern, int64_t times)
{
    for (int i = 0; i < dealer->problem->item_count; i++) {
        const int64_t each = pattern->counts[i];
        if (each > 0 && dealer->left[i] < each * times)
            times = dealer->left[i] / each;
    }
    return times > 0 ? times : 1;
}

/* The further layouts of the same kind after the first: the dealer skips their parts. */
static void skip(struct dealer *dealer, const struct pattern *pattern, int64_t times)
{
    for (int i = 0; i < dealer->problem->item_count; i++) {
        const int64_t many = pattern->counts[i] * times;
        if (many == 0)
            continue;
        dealer->left[i] -= many;
        if (dealer->left[i] == 0)
            next_part(dealer, i, dealer->next[dealer->part[i]]);
    }
}

static void write_node(const struct writer *writer, int at, struct region region, struct dw_cut_node *node);

static struct dw_cut_node piece(struct region region, enum dw_node_use use)
{
    return (struct dw_cut_node){
        .x = region.x,
        .y = region.y,
        .length = region.length,
        .width = region.width,
        .use = use,
    };
}

static bool is_worth_keeping(const struct dw_cut_keep *keep, dw_length length, dw_length width)
{
    if (keep->least_length == 0 && keep->least_width == 0)
        return false;
    return dw_most(length, width) >= keep->least_length && dw_least(length, width) >= keep->least_width;
}

static struct dw_cut_node offcut(const struct writer *writer, struct region region)
{
    const struct dw_cut_keep *keep = &writer->problem->request->keep;
    return piece(region, is_worth_keeping(keep, region.length, region.width) ? DW_NODE_KEEP : DW_NODE_WASTE);
}

/* The low part of a region, `extent` long in the direction that `cut` divides; the rest beyond a kerf, in *rest. */
static struct region split(const struct writer *writer, struct region region, enum dw_cut cut, dw_length extent,
                           struct region *rest)
{
    const dw_length kerf = writer->problem->request->kerf;
    struct region low = region;
    *rest = region;
    if (cut == DW_CROSSCUT) {
        low.length = extent;
        rest->x += extent + kerf;
        rest->length -= extent + kerf;
    } else {
        low.width = extent;
        rest->y += extent + kerf;
        rest->width -= extent + kerf;
    }
    return low;
}

static dw_length along(struct region region, enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? region.length : region.width;
}

/* Makes `node` a cut that parts `region` after `extent`; the low piece is still to be filled in and is returned. */
static struct dw_cut_node *write_cut_off(const struct writer *writer, struct region region, enum dw_cut cut,
                                         dw_length extent, struct dw_cut_node *node, struct region *low)
{
    struct region rest;
    *low = split(writer, region, cut, extent, &rest);
    const bool has_rest = along(rest, cut) > 0;
    struct dw_cut_node *pieces = dw_arena_alloc(writer->arena, 2, sizeof *pieces);
    *node = piece(region, DW_NODE_CUT);
    node->cut = cut;
    node->pieces = pieces;
    node->piece_count = has_rest ? 2 : 1;
    if (has_rest)
        pieces[1] = offcut(writer, rest);
    return pieces;
}

static int64_t biggest(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* Which of the two cuts that trim a region to `length` by `width` comes first: the one that leaves the larger offcut. */
static enum dw_cut better_first(struct region region, dw_length length, dw_length width)
{
    const dw_length x = region.length - length;
    const dw_length y = region.width - width;
    const int64_t crosscut_first = biggest(x * region.width, y * length);
    const int64_t rip_first = biggest(y * region.length, x * width);
    return rip_first > crosscut_first ? DW_RIP : DW_CROSSCUT;
}

static void write_part(const struct writer *writer, const struct slice *slice, struct region region,
                       struct dw_cut_node *node)
{
    const struct problem *problem = writer->problem;
    const dw_length length = real(problem, slice->length);
    const dw_length width = real(problem, slice->width);
    const bool trims_length = region.length > length;
    const bool trims_width = region.width > width;
    if (trims_length || trims_width) {
        enum dw_cut cut = trims_length ? DW_CROSSCUT : DW_RIP;
        if (trims_length && trims_width)
            cut = problem->first_cut >= 0 ? (enum dw_cut)problem->first_cut : better_first(region, length, width);
        struct region low;
        struct dw_cut_node *inner =
            write_cut_off(writer, region, cut, cut == DW_CROSSCUT ? length : width, node, &low);
        write_part(writer, slice, low, inner);
        return;
    }
    *node = piece(region, DW_NODE_PART);
    node->part = deal(writer->dealer, slice->item);
    node->turned = writer->problem->request->parts[node->part].length != length;
}

/* The members of a row: sub-trees that hang beneath nested nodes of one kind. */
struct member {
    const struct pattern *pattern;
    int at;
};

static int compare(int64_t a, int64_t b)
{
    return (a < b) - (a > b);
}

/* Wider members first, then longer ones (seen along the length); then by their first items, to bring equal ones
 * together; the place in the tree makes the order total. */
static int compare_members(const void *left, const void *right)
{
    const struct member *a = left;
    const struct member *b = right;
    const struct slice *one = &a->pattern->nodes[a->at];
    const struct slice *two = &b->pattern->nodes[b->at];
    int order = compare(one->width, two->width);
    if (order == 0)
        order = compare(one->length, two->length);
    if (order == 0)
        order = compare(two->kind, one->kind);
    if (order == 0)
        order = compare(two->item, one->item);
    return order != 0 ? order : compare(b->at, a->at);
}

/* Gathers the members of the row that begins at `at`. */
static struct member *row_of(const struct writer *writer, int at, size_t *count)
{
    const struct slice *nodes = writer->pattern->nodes;
    const enum slice_kind kind = nodes[at].kind;
    struct member *members = NULL;
    size_t capacity = 0;
    int *const stack = writer->stack;
    int depth = 0;
    stack[depth++] = at;
    *count = 0;
    while (depth > 0) {
        const int next = stack[--depth];
        if (nodes[next].kind == kind) {
            stack[depth++] = nodes[next].second;
            stack[depth++] = nodes[next].first;
            continue;
        }
        members = dw_arena_grow(writer->arena, members, *count, &capacity, sizeof *members);
        members[(*count)++] = (struct member){writer->pattern, next};
    }
    if (*count > 1)
        qsort(members, *count, sizeof *members, compare_members);
    return members;
}

static void write_row(const struct writer *writer, int at, struct region region, struct dw_cut_node *node)
{
    size_t count;
    const struct member *members = row_of(writer, at, &count);
    const enum dw_cut cut = writer->pattern->nodes[at].kind == SLICE_BESIDE ? DW_CROSSCUT : DW_RIP;
    struct dw_cut_node *pieces = dw_arena_alloc(writer->arena, count + 1, sizeof *pieces);
    *node = piece(region, DW_NODE_CUT);
    node->cut = cut;
    node->pieces = pieces;
    struct region rest = region;
    for (size_t i = 0; i < count; i++) {
        const struct slice *slice = &writer->pattern->nodes[members[i].at];
        const int64_t extent = cut == DW_CROSSCUT ? slice->length : slice->width;
        const struct region low = split(writer, rest, cut, real(writer->problem, extent), &rest);
        write_node(writer, members[i].at, low, &pieces[i]);
    }
    node->piece_count = count;
    if (along(rest, cut) > 0)
        pieces[node->piece_count++] = offcut(writer, rest);
}

static void write_node(const struct writer *writer, int at, struct region region, struct dw_cut_node *node)
{
    const struct slice *slice = &writer->pattern->nodes[at];
    if (slice->kind == SLICE_ITEM)
        write_part(writer, slice, region, node);
    else
        write_row(writer, at, region, node);
}

/* Stages of the row at `at`, itself included. */
static int stages_of(const struct pattern *pattern, int at, enum slice_kind above)
{
    const struct slice *slice = &pattern->nodes[at];
    if (slice->kind == SLICE_ITEM)
        return 0;
    const int one = stages_of(pattern, slice->first, slice->kind);
    const int two = stages_of(pattern, slice->second, slice->kind);
    return (one > two ? one : two) + (slice->kind != above);
}

/* Whether what is free across the root's row is taken off first, in a cut of its own. */
static bool cuts_across_first(const struct writer *writer, enum dw_cut across, dw_length free_across)
{
    const struct problem *problem = writer->problem;
    const struct pattern *pattern = writer->pattern;
    if (free_across == 0 || (problem->first_cut >= 0 && (int)across != problem->first_cut))
        return false;
    return problem->turns == 0 || stages_of(pattern, pattern->root, SLICE_ITEM) < problem->turns;
}

static struct dw_cut_node write_root(const struct writer *writer)
{
    const struct problem *problem = writer->problem;
    const struct pattern *pattern = writer->pattern;
    const struct dw_cut_sheet *sheet = &problem->request->sheets[pattern->stock];
    const struct region whole = {
        .x = sheet->trim[0],
        .y = sheet->trim[2],
        .length = sheet->length - sheet->trim[0] - sheet->trim[1],
        .width = sheet->width - sheet->trim[2] - sheet->trim[3],
    };
    const struct slice *root = &pattern->nodes[pattern->root];
    const enum dw_cut across = root->kind == SLICE_BESIDE ? DW_RIP : DW_CROSSCUT;
    const dw_length extent = real(problem, across == DW_RIP ? root->width : root->length);
    struct dw_cut_node node;
    if (root->kind != SLICE_ITEM && cuts_across_first(writer, across, along(whole, across) - extent)) {
        struct region low;
        struct dw_cut_node *inner = write_cut_off(writer, whole, across, extent, &node, &low);
        write_node(writer, pattern->root, low, inner);
    } else {
        write_node(writer, pattern->root, whole, &node);
    }
    return node;
}

static struct writer start_writing(const struct problem *problem, const struct pattern *pattern, struct dealer *dealer,
                                   struct dw_arena *arena)
{
    return (struct writer){
        .problem = problem,
        .arena = arena,
        .pattern = pattern,
        .dealer = dealer,
        .stack = dw_arena_alloc(arena, (size_t)pattern->node_count, sizeof(int)),
    };
}

/* A use and its place in the caller's list, which makes the order total. */
struct ranked_use {
    struct pattern_use use;
    size_t rank;
};

/* By sheet, then the layout used most, then the fullest. */
static int compare_uses(const void *left, const void *right)
{
    const struct ranked_use *a = left;
    const struct ranked_use *b = right;
    int order = compare(b->use.pattern->stock, a->use.pattern->stock);
    if (order == 0)
        order = compare(a->use.times, b->use.times);
    if (order == 0)
        order = compare(a->use.pattern->area, b->use.pattern->area);
    return order != 0 ? order : (a->rank > b->rank) - (a->rank < b->rank);
}

static struct ranked_use *rank_uses(const struct pattern_use *uses, size_t count, struct dw_arena *arena)
{
    struct ranked_use *ranked = dw_arena_alloc(arena, count, sizeof *ranked);
    for (size_t u = 0; u < count; u++)
        ranked[u] = (struct ranked_use){uses[u], u};
    qsort(ranked, count, sizeof *ranked, compare_uses);
    return ranked;
}

/* From the last part to the first, so that each item ends up at its first. */
static struct dealer start_dealing(const struct problem *problem, struct dw_arena *arena)
{
    const size_t part_count = problem->request->part_count;
    struct dealer dealer = {
        .problem = problem,
        .part = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *dealer.part),
        .next = dw_arena_alloc(arena, part_count, sizeof *dealer.next),
        .left = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *dealer.left),
    };
    for (int i = 0; i < problem->item_count; i++)
        dealer.part[i] = part_count;
    for (size_t p = part_count; p-- > 0;) {
        dealer.next[p] = dealer.part[problem->item_of_part[p]];
        next_part(&dealer, problem->item_of_part[p], p);
    }
    return dealer;
}

struct dw_cut_node dwi_layout_write(const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena)
{
    struct dealer dealer = {
        .problem = problem,
        .part = dw_arena_alloc(arena, (size_t)problem->item_count, sizeof *dealer.part),
    };
    for (size_t p = problem->request->part_count; p-- > 0;)
        dealer.part[problem->item_of_part[p]] = p;
    const struct writer writer = start_writing(problem, pattern, &dealer, arena);
    return write_root(&writer);
}

void dwi_plan_write(const struct problem *problem, const struct pattern_use *uses, size_t use_count,
                    struct dw_arena *arena, struct dw_cut_plan *plan)
{
    struct dealer dealer = start_dealing(problem, arena);
    const struct ranked_use *ranked = rank_uses(uses, use_count, arena);
    struct dw_cut_layout *layouts = NULL;
    size_t capacity = 0;
    size_t count = 0;
    plan->cost = 0;
    for (size_t u = 0; u < use_count; u++) {
        const struct pattern *pattern = ranked[u].use.pattern;
        const struct writer writer = start_writing(problem, pattern, &dealer, arena);
        for (int64_t left = ranked[u].use.times; left > 0;) {
            const int64_t times = alike(&dealer, pattern, left);
            layouts = dw_arena_grow(arena, layouts, count, &capacity, sizeof *layouts);
            layouts[count].sheet = (size_t)pattern->stock;
            layouts[count].times = times;
            layouts[count++].root = write_root(&writer);
            skip(&dealer, pattern, times - 1);
            left -= times;
        }
        plan->cost += problem->stocks[pattern->stock].price * ranked[u].use.times;
    }
    plan->layouts = layouts;
    plan->layout_count = count;
}
