/* strip_layout.c - the same parts on the same sheets, in strips of one width each: what a person would lay out.
 *
 * Sheet after sheet, width after width from the widest: strips are filled with parts of just that width until the parts, or the sheet's
 * width, run out. Nothing is gained in sheets; what is gained is settings: one for each width and one for each length. Where the parts are
 * packed too tightly for this, there is no answer and the plan stays as it was.
 *
 * "Along" is the direction of the strips, "across" that in which they are stacked.
 */
#include "strip_layout.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

enum { SNUG_NODES = 4000 };

/* A part of the request as it lies in its strip. */
struct lying {
    size_t part;
    bool turned;
    dw_length along, across;
    int64_t left;
};

struct strips {
    const struct dw_cut_request *request;
    struct strip_way way;
    struct dw_arena *arena;
    struct lying *parts; /* wide before narrow, then long before short */
    size_t part_count;
    int64_t left;        /* pieces without a place */
};

/* What goes into one strip: so many of each part of the same width. */
struct filling {
    int64_t *counts;     /* from the first part of the width on */
    int64_t *best;
    size_t part_count;
    dw_length best_used;
    int nodes;
};

struct strip_way dwi_strip_way(size_t number)
{
    return (struct strip_way){.first = (number & 1U) == 0 ? DW_RIP : DW_CROSSCUT, .turned = (number & 2U) != 0, .snug = (number & 4U) != 0};
}

/* ---- the parts ---- */

static int compare_lying(const void *first, const void *second)
{
    const struct lying *a = first, *b = second;
    if (a->across != b->across)
        return a->across < b->across ? 1 : -1;
    if (a->along != b->along)
        return a->along < b->along ? 1 : -1;
    return (a->part > b->part) - (a->part < b->part);
}

static void count_parts(const struct dw_cut_node *node, int64_t times, int64_t *counts)
{
    if (node->use == DW_NODE_PART)
        counts[node->part] += times;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        count_parts(&node->pieces[i], times, counts);
}

static void lay_out_parts(struct strips *strips, const struct dw_cut_plan *plan, size_t first, size_t count)
{
    const struct dw_cut_request *request = strips->request;
    int64_t *counts = dw_arena_alloc(strips->arena, request->part_count, sizeof *counts);
    for (size_t i = first; i < first + count; i++)
        count_parts(&plan->layouts[i].root, plan->layouts[i].times, counts);
    strips->parts = dw_arena_alloc(strips->arena, request->part_count, sizeof *strips->parts);
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *part = &request->parts[p];
        if (counts[p] == 0)
            continue;
        const bool turned = strips->way.turned && part->turn;
        const bool swapped = turned != (strips->way.first == DW_CROSSCUT);
        strips->parts[strips->part_count++] = (struct lying){.part = p, .turned = turned, .along = swapped ? part->width : part->length,
                                                             .across = swapped ? part->length : part->width, .left = counts[p]};
        strips->left += counts[p];
    }
    if (strips->part_count > 0)
        qsort(strips->parts, strips->part_count, sizeof *strips->parts, compare_lying);
}

/* ---- nodes ---- */

static dw_length size_of(const struct dw_cut_node *node, enum dw_cut cut)
{
    return cut == DW_RIP ? node->width : node->length;
}

static void be_offcut(const struct strips *strips, struct dw_cut_node *node)
{
    const struct dw_cut_keep *keep = &strips->request->keep;
    const bool kept = keep->least_length + keep->least_width > 0 && dw_most(node->length, node->width) >= keep->least_length &&
                      dw_least(node->length, node->width) >= keep->least_width;
    node->use = kept ? DW_NODE_KEEP : DW_NODE_WASTE;
}

/* Cuts the node into pieces of these sizes and the rest, if that is more than a kerf. Returns the pieces; one piece that is the whole node is
 * the node itself. */
static struct dw_cut_node *divide(const struct strips *strips, struct dw_cut_node *node, enum dw_cut cut, const dw_length *sizes, size_t count)
{
    dw_length rest = size_of(node, cut) + strips->request->kerf;
    for (size_t i = 0; i < count; i++)
        rest -= sizes[i] + strips->request->kerf; /* what is left after the kerf of the last cut; below 0: only part of a kerf */
    if (count == 1 && sizes[0] == size_of(node, cut))
        return node;
    struct dw_cut_node *pieces = dw_arena_alloc(strips->arena, count + 1, sizeof *pieces);
    const size_t total = rest - strips->request->kerf > 0 ? count + 1 : count;
    dw_length at = 0;
    for (size_t i = 0; i < total; i++) {
        const dw_length size = i < count ? sizes[i] : rest - strips->request->kerf;
        pieces[i] = (struct dw_cut_node){.x = node->x, .y = node->y, .length = node->length, .width = node->width};
        *(cut == DW_RIP ? &pieces[i].y : &pieces[i].x) += at;
        *(cut == DW_RIP ? &pieces[i].width : &pieces[i].length) = size;
        at += size + strips->request->kerf;
    }
    if (total > count)
        be_offcut(strips, &pieces[count]);
    node->use = DW_NODE_CUT;
    node->cut = cut;
    node->pieces = pieces;
    node->piece_count = total;
    return pieces;
}

/* ---- one strip ---- */

static void fill_longest_first(const struct lying *parts, dw_length room, dw_length kerf, struct filling *filling)
{
    dw_length left = room + kerf;
    for (size_t i = 0; i < filling->part_count; i++) {
        filling->best[i] = dw_least(parts[i].left, left / (parts[i].along + kerf));
        left -= filling->best[i] * (parts[i].along + kerf);
    }
}

/* Depth first from as many as fit downwards; the fullest strip found within the nodes. */
static void fill_snugly(const struct lying *parts, size_t depth, dw_length left, dw_length kerf, dw_length used, struct filling *filling)
{
    if (used > filling->best_used) {
        filling->best_used = used;
        memset(filling->best, 0, filling->part_count * sizeof *filling->best);
        memcpy(filling->best, filling->counts, depth * sizeof *filling->best);
    }
    if (depth == filling->part_count || left == 0 || --filling->nodes < 0)
        return;
    const dw_length grown = parts[depth].along + kerf;
    for (int64_t count = dw_least(parts[depth].left, left / grown); count >= 0; count--) {
        filling->counts[depth] = count;
        fill_snugly(parts, depth + 1, left - count * grown, kerf, used + count * grown, filling);
    }
}

/* Fills one strip from the parts of one width; returns how many pieces it holds. */
static int64_t fill_strip(struct strips *strips, size_t first, size_t end, dw_length room, struct filling *filling)
{
    const dw_length kerf = strips->request->kerf;
    filling->part_count = end - first;
    filling->best_used = 0;
    filling->nodes = SNUG_NODES;
    memset(filling->best, 0, filling->part_count * sizeof *filling->best);
    if (strips->way.snug)
        fill_snugly(&strips->parts[first], 0, room + kerf, kerf, 0, filling);
    else
        fill_longest_first(&strips->parts[first], room, kerf, filling);
    int64_t total = 0;
    for (size_t i = 0; i < filling->part_count; i++)
        total += filling->best[i];
    return total;
}

/* A strip being laid: which parts it holds. */
struct strip {
    dw_length across;
    size_t *held; /* indices into strips->parts */
    size_t count;
};

static struct strip take_strip(struct strips *strips, size_t first, const struct filling *filling, int64_t total)
{
    struct strip strip = {.across = strips->parts[first].across, .held = dw_arena_alloc(strips->arena, (size_t)total, sizeof *strip.held)};
    for (size_t i = 0; i < filling->part_count; i++) {
        for (int64_t n = 0; n < filling->best[i]; n++)
            strip.held[strip.count++] = first + i;
        strips->parts[first + i].left -= filling->best[i];
    }
    strips->left -= total;
    return strip;
}

static void write_strip(const struct strips *strips, struct dw_cut_node *node, const struct strip *strip)
{
    const enum dw_cut second = strips->way.first == DW_RIP ? DW_CROSSCUT : DW_RIP;
    dw_length *sizes = dw_arena_alloc(strips->arena, strip->count, sizeof *sizes);
    for (size_t i = 0; i < strip->count; i++)
        sizes[i] = strips->parts[strip->held[i]].along;
    struct dw_cut_node *pieces = divide(strips, node, second, sizes, strip->count);
    for (size_t i = 0; i < strip->count; i++) {
        pieces[i].use = DW_NODE_PART;
        pieces[i].part = strips->parts[strip->held[i]].part;
        pieces[i].turned = strips->parts[strip->held[i]].turned;
    }
}

/* ---- one sheet ---- */

/* As many strips as the sheet's width holds; returns false when it holds none. */
static bool lay_sheet(struct strips *strips, struct dw_cut_node *root)
{
    const dw_length kerf = strips->request->kerf;
    const dw_length along = size_of(root, strips->way.first == DW_RIP ? DW_CROSSCUT : DW_RIP);
    dw_length room = size_of(root, strips->way.first);
    struct filling filling = {.counts = dw_arena_alloc(strips->arena, strips->part_count, sizeof(int64_t)),
                              .best = dw_arena_alloc(strips->arena, strips->part_count, sizeof(int64_t))};
    struct strip *laid = dw_arena_alloc(strips->arena, (size_t)strips->left, sizeof *laid);
    dw_length *sizes = dw_arena_alloc(strips->arena, (size_t)strips->left, sizeof *sizes);
    size_t count = 0;
    for (size_t first = 0, end = 0; first < strips->part_count; first = end) {
        for (end = first; end < strips->part_count && strips->parts[end].across == strips->parts[first].across; end++)
            continue;
        while (strips->parts[first].across <= room) {
            const int64_t total = fill_strip(strips, first, end, along, &filling);
            if (total == 0)
                break;
            laid[count] = take_strip(strips, first, &filling, total);
            sizes[count] = laid[count].across;
            room -= sizes[count++] + kerf;
        }
    }
    if (count == 0)
        return false;
    struct dw_cut_node *nodes = divide(strips, root, strips->way.first, sizes, count);
    for (size_t i = 0; i < count; i++)
        write_strip(strips, &nodes[i], &laid[i]);
    return true;
}

static bool is_same(const struct dw_cut_node *a, const struct dw_cut_node *b)
{
    bool same = a->x == b->x && a->y == b->y && a->length == b->length && a->width == b->width && a->use == b->use;
    if (a->use == DW_NODE_PART)
        same = same && a->part == b->part && a->turned == b->turned;
    if (a->use == DW_NODE_CUT)
        same = same && a->cut == b->cut && a->piece_count == b->piece_count;
    for (size_t i = 0; same && a->use == DW_NODE_CUT && i < a->piece_count; i++)
        same = is_same(&a->pieces[i], &b->pieces[i]);
    return same;
}

/* Adds a sheet to the layouts: one more time of an equal one, or a new one. */
static size_t add_layout(struct dw_cut_layout *layouts, size_t count, const struct dw_cut_layout *layout)
{
    for (size_t i = 0; i < count; i++)
        if (layouts[i].sheet == layout->sheet && is_same(&layouts[i].root, &layout->root)) {
            layouts[i].times++;
            return count;
        }
    layouts[count] = *layout;
    return count + 1;
}

size_t dwi_strips_lay(const struct dw_cut_request *request, const struct dw_cut_plan *plan, size_t first, size_t count, struct strip_way way,
                      struct dw_arena *arena, struct dw_cut_layout *layouts)
{
    struct strips strips = {.request = request, .way = way, .arena = arena};
    lay_out_parts(&strips, plan, first, count);
    size_t made = 0;
    for (size_t i = first; i < first + count; i++)
        for (int64_t time = 0; time < plan->layouts[i].times; time++) {
            const struct dw_cut_node *old = &plan->layouts[i].root;
            struct dw_cut_layout layout = {.sheet = plan->layouts[i].sheet, .times = 1,
                                           .root = {.x = old->x, .y = old->y, .length = old->length, .width = old->width}};
            if (!lay_sheet(&strips, &layout.root))
                return 0;
            made = add_layout(layouts, made, &layout);
        }
    return strips.left == 0 ? made : 0;
}
