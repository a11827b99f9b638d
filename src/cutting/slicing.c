/* slicing.c - a slicing tree that grows and is pruned, with the slack of every node.
 *
 * Slack. The root may grow by what its sheet leaves free. Within a node that sets its children side by side, a child's
 * growth in x is the node's own, while in y it may first catch up with the node's width:
 *     slack_x(child) = slack_x(node),  slack_y(child) = slack_y(node) + width(node) - width(child)
 * and with x and y exchanged for one that sets them upon each other. So whether and where a part fits is known without
 * any coordinate, and a part in the middle of a sheet may still move all others aside.
 *
 * Stages. Cuts of one direction that follow each other are one stage. With a limit of K stages and a node whose
 * cut would open stage t, a sub-tree of h stages hangs beneath it if t + h <= K (one less where its topmost cuts run the same way).
 * A sheet whose first cut runs the other way than asked for loses its first stage to a cut that only trims; that cut
 * must have something to take off, so one unit of slack is kept back across it.
 *
 * Preorder without links: insertion moves the tail of the array by two places, pruning is one pass, and both sweeps of
 * `settle` are plain loops. All cost O(nodes of the sheet).
 */
#include "slicing.h"

#include <string.h>

#include <drawerwright/memory.h>

void dwi_sheet_init(struct sheet *sheet, const struct problem *problem, int stock)
{
    *sheet = (struct sheet){.problem = problem, .stock = stock};
}

static void make_room(struct sheet *sheet, size_t wanted, struct dw_arena *arena)
{
    if (wanted <= sheet->capacity)
        return;
    size_t capacity = sheet->capacity < 8 ? 16 : sheet->capacity * 2;
    if (capacity < wanted)
        capacity = wanted;
    struct twig *twigs = dw_arena_alloc(arena, capacity, sizeof *twigs);
    if (sheet->count > 0)
        memcpy(twigs, sheet->twigs, (size_t)sheet->count * sizeof *twigs);
    sheet->twigs = twigs;
    sheet->capacity = capacity;
}

static struct twig leaf(int item, bool turned)
{
    return (struct twig){.kind = SLICE_ITEM, .item = item, .turned = turned, .size = 1};
}

/* Sizes of sub-trees anew, from the leaves up. */
static void mend_tree_sizes(struct sheet *sheet)
{
    for (int i = sheet->count - 1; i >= 0; i--) {
        struct twig *twig = &sheet->twigs[i];
        if (twig->kind == SLICE_ITEM)
            continue;
        const struct twig *first = twig + 1;
        twig->size = 1 + first->size + first[first->size].size;
    }
}

void dwi_sheet_insert(struct sheet *sheet, int at, enum slice_kind kind, int item, bool turned, struct dw_arena *arena)
{
    if (sheet->count == 0) {
        make_room(sheet, 1, arena);
        sheet->twigs[0] = leaf(item, turned);
        sheet->count = 1;
        dwi_sheet_settle(sheet);
        return;
    }
    make_room(sheet, (size_t)sheet->count + 2, arena);
    struct twig *twigs = sheet->twigs;
    const int size = twigs[at].size;
    const int end = at + size;
    memmove(&twigs[end + 2], &twigs[end], (size_t)(sheet->count - end) * sizeof *twigs);
    memmove(&twigs[at + 1], &twigs[at], (size_t)size * sizeof *twigs);
    twigs[at] = (struct twig){.kind = (uint8_t)kind, .size = size + 2};
    twigs[end + 1] = leaf(item, turned);
    sheet->count += 2;
    mend_tree_sizes(sheet);
    dwi_sheet_settle(sheet);
}

void dwi_sheet_replace(struct sheet *sheet, int at, int item, bool turned, int32_t *removed)
{
    struct twig *twigs = sheet->twigs;
    const int end = at + twigs[at].size;
    for (int i = at; i < end; i++)
        if (twigs[i].kind == SLICE_ITEM)
            removed[twigs[i].item]++;
    memmove(&twigs[at + 1], &twigs[end], (size_t)(sheet->count - end) * sizeof *twigs);
    twigs[at] = leaf(item, turned);
    sheet->count -= end - at - 1;
    mend_tree_sizes(sheet);
    dwi_sheet_settle(sheet);
}

/* Leaves that stay beneath each twig, into kept[]; leaves that go are counted into removed[]. */
static void count_kept(const struct sheet *sheet, const bool *drop, int32_t *removed, int *kept)
{
    const struct twig *twigs = sheet->twigs;
    for (int i = sheet->count - 1; i >= 0; i--) {
        if (twigs[i].kind != SLICE_ITEM) {
            kept[i] = kept[i + 1] + kept[i + 1 + twigs[i + 1].size];
        } else {
            kept[i] = !drop[i];
            removed[twigs[i].item] += drop[i];
        }
    }
}

void dwi_sheet_prune(struct sheet *sheet, const bool *drop, int32_t *removed, int *work)
{
    int *const kept = work;
    struct twig *twigs = sheet->twigs;
    count_kept(sheet, drop, removed, kept);
    int to = 0;
    for (int i = 0; i < sheet->count;) {
        if (kept[i] == 0) {
            i += twigs[i].size;
            continue;
        }
        const bool inner = twigs[i].kind != SLICE_ITEM;
        const bool loses_a_child = inner && (kept[i + 1] == 0 || kept[i + 1] == kept[i]);
        if (!loses_a_child) {
            const int leaves = kept[i];
            twigs[to] = twigs[i];
            twigs[to].size = 2 * leaves - 1;
            to++;
        }
        i++;
    }
    sheet->count = to;
    dwi_sheet_settle(sheet);
}

void dwi_sheet_empty(struct sheet *sheet, int32_t *removed)
{
    if (removed != NULL)
        for (int i = 0; i < sheet->count; i++)
            if (sheet->twigs[i].kind == SLICE_ITEM)
                removed[sheet->twigs[i].item]++;
    sheet->count = 0;
    dwi_sheet_settle(sheet);
}

void dwi_sheet_copy(struct sheet *to, const struct sheet *from, struct dw_arena *arena)
{
    to->count = 0;
    make_room(to, (size_t)from->count, arena);
    if (from->count > 0)
        memcpy(to->twigs, from->twigs, (size_t)from->count * sizeof *to->twigs);
    to->problem = from->problem;
    to->stock = from->stock;
    to->count = from->count;
    to->area = from->area;
    to->room = from->room;
    to->holes = from->holes;
    to->shift_x = from->shift_x;
    to->shift_y = from->shift_y;
    memcpy(to->deepest_x, from->deepest_x, sizeof to->deepest_x);
    memcpy(to->deepest_y, from->deepest_y, sizeof to->deepest_y);
}

/* Sizes and stages of a node from those of its children. */
static void join(struct twig *node, const struct twig *first, const struct twig *second)
{
    if (node->kind == SLICE_BESIDE) {
        node->length = first->length + second->length;
        node->width = first->width > second->width ? first->width : second->width;
    } else {
        node->width = first->width + second->width;
        node->length = first->length > second->length ? first->length : second->length;
    }
    const int one = first->stages - (first->kind == node->kind);
    const int two = second->stages - (second->kind == node->kind);
    node->stages = (int16_t)(1 + (one > two ? one : two));
}

static int64_t settle_sizes(struct sheet *sheet)
{
    const struct item *items = sheet->problem->items;
    int64_t area = 0;
    for (int i = sheet->count - 1; i >= 0; i--) {
        struct twig *twig = &sheet->twigs[i];
        if (twig->kind != SLICE_ITEM) {
            const struct twig *first = twig + 1;
            join(twig, first, first + first->size);
            continue;
        }
        const struct item *item = &items[twig->item];
        twig->length = twig->turned ? item->width : item->length;
        twig->width = twig->turned ? item->length : item->width;
        twig->stages = 0;
        area += item->area;
    }
    return area;
}

static enum slice_kind first_kind(const struct problem *problem)
{
    return problem->first_cut == DW_RIP ? SLICE_UPON : SLICE_BESIDE;
}

/* The stage that a root cut of `kind` opens: 2 where the first cut asked for runs the other way. */
static int root_stage(const struct problem *problem, enum slice_kind kind)
{
    return problem->first_cut >= 0 && kind != first_kind(problem) ? 2 : 1;
}

/* Which cuts the stages allow around `twig`, where `stage` is that of its parent's cut (0: it is the root). */
static uint8_t allowed_cuts(const struct problem *problem, const struct twig *twig, int stage, int limit)
{
    unsigned may = 0;
    for (enum slice_kind kind = SLICE_BESIDE; kind <= SLICE_UPON; kind++) {
        int opened = root_stage(problem, kind);
        if (stage > 0)
            opened = stage + (twig->above != kind);
        const int below = twig->stages - (twig->kind == kind);
        if (opened + (below > 0 ? below : 0) <= limit)
            may |= 1u << kind;
    }
    return (uint8_t)may;
}

enum { ANY_STAGES = 30000 };

/* Slack of the root, less the unit that an other-way first cut must take off; the limit of stages where it has none. */
static int root_slack(const struct sheet *sheet, struct twig *root)
{
    const struct problem *problem = sheet->problem;
    const struct stock *stock = &problem->stocks[sheet->stock];
    root->slack_x = stock->length - root->length;
    root->slack_y = stock->width - root->width;
    const int limit = problem->turns > 0 ? problem->turns : ANY_STAGES;
    if (root->kind == SLICE_ITEM || root_stage(problem, root->kind) == 1 || dwi_spare_across(stock, root->kind))
        return limit;
    int64_t *across = root->kind == SLICE_BESIDE ? &root->slack_y : &root->slack_x;
    if (*across < 1)
        return limit < 2 ? limit : 2;
    *across -= 1;
    return limit;
}

static void settle_child(struct twig *child, const struct twig *node)
{
    const bool beside = node->kind == SLICE_BESIDE;
    child->above = node->kind;
    child->slack_x = node->slack_x + (beside ? 0 : node->length - child->length);
    child->slack_y = node->slack_y + (beside ? node->width - child->width : 0);
}

static void note_reach(struct sheet *sheet, const struct twig *twig)
{
    if (twig->slack_x >= 0) {
        int64_t *deepest = &sheet->deepest_x[twig->slack_x >> sheet->shift_x];
        if (*deepest < twig->width + twig->slack_y)
            *deepest = twig->width + twig->slack_y;
    }
    if (twig->slack_y >= 0) {
        int64_t *deepest = &sheet->deepest_y[twig->slack_y >> sheet->shift_y];
        if (*deepest < twig->length + twig->slack_x)
            *deepest = twig->length + twig->slack_x;
    }
}

static void settle_slack(struct sheet *sheet)
{
    struct twig *twigs = sheet->twigs;
    const struct problem *problem = sheet->problem;
    const bool staged = problem->turns > 0 || problem->first_cut >= 0;
    twigs[0].above = SLICE_ITEM;
    const int limit = root_slack(sheet, &twigs[0]);
    twigs[0].opens = 0;
    for (int i = 0; i < sheet->count; i++) {
        struct twig *twig = &twigs[i];
        const int stage = twig->opens; /* of the parent's cut */
        twig->may = staged ? allowed_cuts(problem, twig, stage, limit) : 1u << SLICE_BESIDE | 1u << SLICE_UPON;
        note_reach(sheet, twig);
        if (twig->kind == SLICE_ITEM)
            continue;
        const int own = stage == 0 ? root_stage(problem, twig->kind) : stage + (twig->above != twig->kind);
        struct twig *first = twig + 1;
        struct twig *second = first + first->size;
        settle_child(first, twig);
        settle_child(second, twig);
        first->opens = second->opens = (int16_t)own;
    }
}

/* So many places to shift an extent that 4 to 7 are left of the greatest (fewer of an extent below 4). */
static int reach_shift(int64_t extent)
{
    int shift = 0;
    for (; extent >= INT64_C(1) << 16; extent >>= 8)
        shift += 8;
    for (; extent >= DWI_REACHES; extent >>= 1)
        shift++;
    return shift;
}

/* Each class takes over from the higher ones. */
static void finish_reach(struct sheet *sheet)
{
    for (int c = DWI_REACHES - 2; c >= 0; c--) {
        if (sheet->deepest_x[c] < sheet->deepest_x[c + 1])
            sheet->deepest_x[c] = sheet->deepest_x[c + 1];
        if (sheet->deepest_y[c] < sheet->deepest_y[c + 1])
            sheet->deepest_y[c] = sheet->deepest_y[c + 1];
    }
}

void dwi_sheet_settle(struct sheet *sheet)
{
    const struct stock *stock = &sheet->problem->stocks[sheet->stock];
    sheet->area = settle_sizes(sheet);
    sheet->room = stock->area - sheet->area;
    if (sheet->count == 0)
        return;
    memset(sheet->deepest_x, 0, sizeof sheet->deepest_x);
    memset(sheet->deepest_y, 0, sizeof sheet->deepest_y);
    sheet->shift_x = reach_shift(stock->length);
    sheet->shift_y = reach_shift(stock->width);
    settle_slack(sheet);
    finish_reach(sheet);
}

bool dwi_sheet_sound(const struct sheet *sheet)
{
    if (sheet->count == 0)
        return true;
    const struct twig *root = &sheet->twigs[0];
    const struct problem *problem = sheet->problem;
    const struct stock *stock = &problem->stocks[sheet->stock];
    if (root->length > stock->length || root->width > stock->width)
        return false;
    if (root->kind == SLICE_ITEM)
        return true;
    const int first = root_stage(problem, root->kind);
    if (problem->turns > 0 && first + root->stages - 1 > problem->turns)
        return false;
    const bool across_full = !dwi_spare_across(stock, root->kind) &&
                             (root->kind == SLICE_BESIDE ? root->width == stock->width : root->length == stock->length);
    return first == 1 || root->stages == 1 || !across_full;
}

/* The nodes still to come wait on a stack at the far end of the array: with those written they are never more than the
 * pattern has nodes. */
void dwi_sheet_load(struct sheet *sheet, const struct pattern *pattern, struct dw_arena *arena)
{
    sheet->count = 0;
    make_room(sheet, (size_t)pattern->node_count, arena);
    struct twig *const last = sheet->twigs + pattern->node_count - 1;
    int waiting = 0;
    last[-waiting++].item = pattern->root;
    while (waiting > 0) {
        const struct slice *slice = &pattern->nodes[last[-(--waiting)].item];
        struct twig *twig = &sheet->twigs[sheet->count++];
        *twig = leaf(slice->item, slice->turned);
        twig->kind = (uint8_t)slice->kind;
        if (slice->kind == SLICE_ITEM)
            continue;
        last[-waiting++].item = slice->second;
        last[-waiting++].item = slice->first;
    }
    mend_tree_sizes(sheet);
    dwi_sheet_settle(sheet);
}

struct pattern *dwi_sheet_pattern(const struct sheet *sheet, struct dw_arena *arena)
{
    struct pattern *pattern = dw_arena_alloc(arena, 1, sizeof *pattern);
    struct slice *nodes = dw_arena_alloc(arena, (size_t)sheet->count, sizeof *nodes);
    int32_t *counts = dw_arena_alloc(arena, (size_t)sheet->problem->item_count, sizeof *counts);
    for (int i = 0; i < sheet->count; i++) {
        const struct twig *twig = &sheet->twigs[i];
        nodes[i] = (struct slice){
            .kind = (enum slice_kind)twig->kind,
            .item = twig->item,
            .turned = twig->turned,
            .length = twig->length,
            .width = twig->width,
        };
        if (twig->kind == SLICE_ITEM) {
            counts[twig->item]++;
        } else {
            nodes[i].first = i + 1;
            nodes[i].second = i + 1 + twig[1].size;
        }
    }
    *pattern = (struct pattern){.stock = sheet->stock, .node_count = sheet->count, .nodes = nodes, .counts = counts, .area = sheet->area};
    return pattern;
}

const struct pattern *dwi_pattern_copy(const struct problem *problem, const struct pattern *pattern, struct dw_arena *arena)
{
    struct pattern *copy = dw_arena_copy(arena, pattern, 1, sizeof *copy);
    copy->nodes = dw_arena_copy(arena, pattern->nodes, (size_t)pattern->node_count, sizeof *pattern->nodes);
    copy->counts = dw_arena_copy(arena, pattern->counts, (size_t)problem->item_count, sizeof *pattern->counts);
    return copy;
}

struct pattern *dwi_pattern_of_whole(const struct pattern *pattern, const struct problem *whole, const int *item_of,
                                     struct dw_arena *arena)
{
    struct pattern *moved = dw_arena_copy(arena, pattern, 1, sizeof *moved);
    struct slice *nodes = dw_arena_copy(arena, pattern->nodes, (size_t)pattern->node_count, sizeof *nodes);
    int32_t *counts = dw_arena_alloc(arena, (size_t)whole->item_count, sizeof *counts);
    for (int i = 0; i < pattern->node_count; i++)
        if (nodes[i].kind == SLICE_ITEM) {
            nodes[i].item = item_of[nodes[i].item];
            counts[nodes[i].item]++;
        }
    moved->nodes = nodes;
    moved->counts = counts;
    return moved;
}
