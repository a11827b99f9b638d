/* pieces.c - a cutting plan back into named pieces on sheets.
 *
 * The plan says how often a layout is used; here each use is a sheet with a name. Walking the sheets in order, each part's pieces are
 * handed out in their order, so that the pieces of one drawer lie close together. Three things change on the way, none of them a size:
 * the sheet's own frame comes back; a matched group's rectangle is taken apart, one kerf between its pieces, in its order; and the
 * pieces of a cut are put into the order of work, large before small, offcuts and waste last, so that the drawing and the ladder agree.
 * (The pieces of parallel cuts may stand in any order.)
 */
#include "pieces.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "breakdown.h"
#include "frame.h"
#include "nodes.h"

/* How much smaller than its size a sheet may come. Plywood: US PS 1-19 as restated by APA - The Engineered Wood Association, +0, -1/16 in.
 * Fiberboard and particleboard: ANSI A208.2, 2.0 mm on sides over 2 ft, as printed in Surface & Panel buyers' guides 2014 and 2015. */
static dw_length size_tolerance(enum dw_material_kind kind)
{
    const bool board = kind == DW_MDF || kind == DW_PARTICLEBOARD || kind == DW_MELAMINE || kind == DW_HARDBOARD;
    return board ? 2 * DW_MM : DW_INCH / 16;
}

struct maker {
    const struct dw_parts *const *jobs;
    const struct dw_layout_problem *problem;
    struct dw_arena *arena;
    dw_length kerf;
    const struct given_up *given_up;
    size_t *next;            /* for each part of the request, the next piece to hand out */
    size_t number;           /* of the last sheet that was given one */
    /* of the sheet in hand */
    const char *sheet;
    bool flip;               /* its frame is not the grain's */
    size_t offcuts;
    dw_area parts_area, kept_area;
};

/* The extent of a node along its cuts, in the grain's frame. */
static dw_length size_along(const struct dw_cut_node *node, enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? node->length : node->width;
}

static int rank_of(enum dw_node_use use)
{
    switch (use) {
    case DW_NODE_CUT:
    case DW_NODE_PART:
        return 0;
    case DW_NODE_KEEP:
        return 1;
    case DW_NODE_WASTE:
        break;
    }
    return 2;
}

static bool goes_before(const struct dw_cut_node *a, const struct dw_cut_node *b, enum dw_cut cut)
{
    if (rank_of(a->use) != rank_of(b->use))
        return rank_of(a->use) < rank_of(b->use);
    return size_along(a, cut) > size_along(b, cut);
}

/* The pieces of a node in the order of work; insertion keeps equal ones as they stood. */
static const struct dw_cut_node **in_order(const struct maker *maker, const struct dw_cut_node *node)
{
    const struct dw_cut_node **order = dw_arena_alloc(maker->arena, node->piece_count, sizeof *order);
    for (size_t i = 0; i < node->piece_count; i++) {
        size_t at = i;
        for (; at > 0 && goes_before(&node->pieces[i], order[at - 1], node->cut); at--)
            order[at] = order[at - 1];
        order[at] = &node->pieces[i];
    }
    return order;
}

/* A node at (x, y) of the grain's frame, in the sheet's frame. */
static struct dw_layout_node place(const struct maker *maker, dw_length x, dw_length y, dw_length length, dw_length width)
{
    const struct extent at = in_frame(x, y, maker->flip);
    const struct extent size = in_frame(length, width, maker->flip);
    return (struct dw_layout_node){.x = at.x, .y = at.y, .length = size.x, .width = size.y, .use = DW_NODE_WASTE, .mark = ""};
}

static enum dw_cut seen(const struct maker *maker, enum dw_cut cut)
{
    if (!maker->flip)
        return cut;
    return cut == DW_RIP ? DW_CROSSCUT : DW_RIP;
}

static struct dw_layout_node make_piece(struct maker *maker, struct dw_layout_node node, struct dw_piece_ref ref)
{
    const struct dw_part *part = part_of(maker->jobs, ref);
    node.use = DW_NODE_PART;
    node.piece = ref;
    node.mark = piece_of(maker->jobs, ref)->mark;
    node.turned = node.length != part->length.value || node.width != part->width.value;
    if (part->length.value == part->width.value) /* a square with its grain across lies turned on a sheet with its grain along */
        node.turned = part->grain != DW_FREE && (part->grain == DW_ACROSS) != maker->flip;
    maker->parts_area += node.length * node.width;
    return node;
}

/* Cuts `whole` (at x, y) down to one piece of length x width at its low corner: at most one crosscut and one rip. */
static struct dw_layout_node trim_down(struct maker *maker, struct dw_layout_node whole, struct extent at, struct extent room,
                                       struct extent size, struct dw_piece_ref ref)
{
    if (room.x == size.x && room.y == size.y)
        return make_piece(maker, whole, ref);
    const bool along = room.x > size.x; /* first the crosscut, then what it leaves */
    const struct extent inner = along ? (struct extent){size.x, room.y} : (struct extent){room.x, size.y};
    const dw_length rest = along ? room.x - size.x : room.y - size.y;
    const size_t count = rest > maker->kerf ? 2 : 1;
    struct dw_layout_node *pieces = dw_arena_alloc(maker->arena, count, sizeof *pieces);
    pieces[0] = trim_down(maker, place(maker, at.x, at.y, inner.x, inner.y), at, inner, size, ref);
    if (count == 2 && along)
        pieces[1] = place(maker, at.x + size.x + maker->kerf, at.y, rest - maker->kerf, room.y);
    else if (count == 2)
        pieces[1] = place(maker, at.x, at.y + size.y + maker->kerf, room.x, rest - maker->kerf);
    pieces[0].after = count == 2 ? maker->kerf : 0;
    whole.use = DW_NODE_CUT;
    whole.cut = seen(maker, along ? DW_CROSSCUT : DW_RIP);
    whole.pieces = pieces;
    whole.piece_count = count;
    return whole;
}

/* A matched group's rectangle taken apart in its order. */
static struct dw_layout_node take_apart(struct maker *maker, const struct dw_cut_node *node, struct dw_layout_node whole, struct extent at)
{
    const struct dw_match *match = maker->problem->matches[node->part];
    const struct dw_piece_ref *refs = maker->problem->pieces[node->part];
    const bool in_x = match->stacked_along != node->turned;
    struct dw_layout_node *pieces = dw_arena_alloc(maker->arena, match->count, sizeof *pieces);
    for (size_t i = 0; i < match->count; i++) {
        const struct dw_part *part = part_of(maker->jobs, refs[i]);
        const bool across = part->grain == DW_ACROSS && !maker->problem->request.parts[node->part].turn;
        const struct extent size = in_frame(part->length.value, part->width.value, across != node->turned);
        const struct extent room = in_x ? (struct extent){size.x, node->width} : (struct extent){node->length, size.y};
        pieces[i] = trim_down(maker, place(maker, at.x, at.y, room.x, room.y), at, room, size, refs[i]);
        at.x += in_x ? size.x + maker->kerf : 0;
        at.y += in_x ? 0 : size.y + maker->kerf;
        pieces[i].after = i + 1 < match->count ? maker->kerf : 0;
    }
    if (match->count == 1)
        return pieces[0];
    whole.use = DW_NODE_CUT;
    whole.cut = seen(maker, in_x ? DW_CROSSCUT : DW_RIP);
    whole.pieces = pieces;
    whole.piece_count = match->count;
    whole.in_order = true;
    return whole;
}

static struct dw_layout_node make_node(struct maker *maker, const struct dw_cut_node *node, struct extent at);

static void make_pieces(struct maker *maker, const struct dw_cut_node *node, struct extent at, struct dw_layout_node *whole)
{
    const struct dw_cut_node **order = in_order(maker, node);
    struct dw_layout_node *pieces = dw_arena_alloc(maker->arena, node->piece_count, sizeof *pieces);
    for (size_t i = 0; i < node->piece_count; i++) {
        pieces[i] = make_node(maker, order[i], at);
        at.x += node->cut == DW_CROSSCUT ? order[i]->length + maker->kerf : 0;
        at.y += node->cut == DW_RIP ? order[i]->width + maker->kerf : 0;
        pieces[i].after = i + 1 < node->piece_count ? maker->kerf : 0;
    }
    whole->cut = seen(maker, node->cut);
    whole->pieces = pieces;
    whole->piece_count = node->piece_count;
}

/* Given up, itself or a part of it: one too large for the van is cut up, and a letter tells its parts apart. */
static bool is_given_up(const struct given_up *given_up, const char *mark)
{
    const size_t length = strlen(mark);
    for (size_t i = 0; i < given_up->count; i++) {
        const char *given = given_up->marks[i];
        if (strncmp(given, mark, length) == 0 && (given[length] == '\0' || given[length] >= 'a'))
            return true;
    }
    return false;
}

/* Offcuts are counted through, so that those given up leave the marks of the others alone. */
static void keep(struct maker *maker, struct dw_layout_node *node)
{
    node->mark = dw_arena_format(maker->arena, "%s-off%zu", maker->sheet, ++maker->offcuts);
    if (is_given_up(maker->given_up, node->mark)) {
        node->use = DW_NODE_WASTE;
        node->mark = "";
        return;
    }
    maker->kept_area += node->length * node->width;
}

static struct dw_layout_node make_node(struct maker *maker, const struct dw_cut_node *node, struct extent at)
{
    struct dw_layout_node made = place(maker, at.x, at.y, node->length, node->width);
    made.use = node->use;
    switch (node->use) {
    case DW_NODE_CUT:
        make_pieces(maker, node, at, &made);
        break;
    case DW_NODE_PART:
        if (maker->problem->matches[node->part] != NULL)
            return take_apart(maker, node, made, at);
        return make_piece(maker, made, maker->problem->pieces[node->part][maker->next[node->part]++]);
    case DW_NODE_KEEP:
        keep(maker, &made);
        break;
    case DW_NODE_WASTE:
        break;
    }
    return made;
}

/* The plan's layouts in the order of their sheets, as they stood otherwise. */
static const struct dw_cut_layout **sheet_order(const struct dw_cut_plan *plan, struct dw_arena *arena)
{
    const struct dw_cut_layout **order = dw_arena_alloc(arena, plan->layout_count, sizeof *order);
    for (size_t i = 0; i < plan->layout_count; i++) {
        size_t at = i;
        for (; at > 0 && plan->layouts[i].sheet < order[at - 1]->sheet; at--)
            order[at] = order[at - 1];
        order[at] = &plan->layouts[i];
    }
    return order;
}

/* Warns where a part reaches so far that a sheet within its tolerance may not hold it. An owned offcut is as measured. */
static bool check_slack(const struct maker *maker, const struct dw_layout_sheet *sheet, const struct dw_sheet_source *source,
                        const struct dw_material *material, struct dw_faults *faults, bool first)
{
    const struct extent reach = dwi_reach_of(&sheet->root);
    const dw_length tolerance = size_tolerance(material->kind);
    const bool in_x = source->length - reach.x < tolerance;
    const bool in_y = source->width - reach.y < tolerance;
    if (source->owned || (!in_x && !in_y))
        return false;
    const dw_length used = in_x ? reach.x : reach.y;
    if (first && source->allowance == 0 && faults != NULL)
        dw_warn(faults, "sheet-tight", "",
                "sheet %s, %s, is used to %s of its %s, and a sheet may come %s smaller than its size%s\nmeasure it before the first cut; "
                "an allowance of %s on this sheet size plans round it",
                maker->sheet, material->name, dwi_layout_show(maker->arena, maker->jobs, used),
                dwi_layout_show(maker->arena, maker->jobs, in_x ? source->length : source->width),
                tolerance == DW_INCH / 16 ? "1/16 in" : "2 mm", tolerance == DW_INCH / 16 ? " (PS 1: +0, -1/16 in)" : " (ANSI A208.2)",
                tolerance == DW_INCH / 16 ? "1/16 in" : "2 mm");
    return true;
}

/* How many things left of earlier plans are of a sheet of that name: the sheet itself, or "S1-b" of "S1". */
static size_t count_chalked(const struct dw_layout_problem *problem, const char *name)
{
    const size_t length = strlen(name);
    size_t count = 0;
    for (size_t i = 0; i < problem->chalked_count; i++)
        count += strncmp(problem->chalked[i], name, length) == 0 && (problem->chalked[i][length] == '\0' || problem->chalked[i][length] == '-') ? 1 : 0;
    return count;
}

/* The material's letter and the next number that stands on nothing else. A sheet that an earlier plan did not touch keeps the name chalked on it. */
static const char *name_sheet(struct maker *maker, const struct dw_sheet_source *source)
{
    const char *slash = source->owned ? strchr(source->id, '/') : NULL;
    if (slash != NULL && strchr(slash, '-') == NULL && count_chalked(maker->problem, slash + 1) == 1)
        return slash + 1;
    for (;;) { /* ends: only so many names are taken */
        const char *name = dw_arena_format(maker->arena, "%s%zu", maker->problem->letter, ++maker->number);
        if (count_chalked(maker->problem, name) == 0)
            return name;
    }
}

static void make_sheet(struct maker *maker, const struct dw_cut_layout *from, struct dw_layout_sheet *sheet)
{
    const struct dw_sheet_source *source = &maker->problem->sources[from->sheet];
    maker->sheet = name_sheet(maker, source);
    maker->flip = source->grain_across;
    maker->offcuts = 0;
    *sheet = (struct dw_layout_sheet){.source = from->sheet, .name = maker->sheet};
    sheet->root = make_node(maker, &from->root, (struct extent){from->root.x, from->root.y});
    struct breaking breaking;
    if (dwi_breaking_of(maker->jobs, maker->problem, source, maker->arena, &breaking))
        dwi_break_down(&breaking, source, maker->arena, sheet);
}

static void report_over_van(const struct maker *maker, const struct dw_layout_sheet *sheet, struct dw_faults *faults)
{
    const struct dw_layout_node *part = dwi_first_part(&sheet->root);
    const struct dw_habits *habits = &first_job(maker->jobs)->shop.habits;
    const struct box van = dwi_box(habits->van_length, habits->van_width);
    dw_error(faults, DW_IMPOSSIBLE, "over-van", part == NULL ? "" : dwi_layout_address(maker->arena, piece_of(maker->jobs, part->piece)),
             "the cuts of sheet %s leave no room for the yard's rough cuts into pieces of %s, on the way to %s\n"
             "a larger van, another first cut, or sheets that fit it", sheet->name,
             dwi_box_words(maker->arena, maker->jobs, &van),
             part == NULL ? "its offcuts" : dwi_layout_piece_words(maker->arena, maker->jobs, part->piece));
}

void dwi_layout_pieces(const struct dw_parts *const *jobs, const struct dw_cut_plan *plan, const struct given_up *given_up,
                       struct dw_arena *arena, struct dw_faults *faults, struct dw_material_layout *layout)
{
    const struct dw_layout_problem *problem = layout->problem;
    const struct dw_material *material = &first_job(jobs)->shop.materials[problem->material];
    struct maker maker = {.jobs = jobs, .problem = problem, .arena = arena, .kerf = problem->request.kerf, .given_up = given_up,
                          .next = dw_arena_alloc(arena, problem->request.part_count, sizeof *maker.next)};
    size_t total = 0;
    for (size_t i = 0; i < plan->layout_count; i++)
        total += (size_t)plan->layouts[i].times;
    const struct dw_cut_layout **order = sheet_order(plan, arena);
    layout->sheets = dw_arena_alloc(arena, total, sizeof *layout->sheets);
    for (size_t i = 0; i < plan->layout_count; i++) {
        const size_t first = layout->sheet_count;
        const struct dw_sheet_source *source = &problem->sources[order[i]->sheet];
        for (int64_t time = 0; time < order[i]->times; time++) {
            struct dw_layout_sheet *sheet = &layout->sheets[layout->sheet_count++];
            make_sheet(&maker, order[i], sheet);
            sheet->like = first;
            sheet->tight = check_slack(&maker, sheet, source, material, faults, time == 0);
            layout->sheets_area += source->length * source->width;
            if (sheet->over_van && time == 0 && faults != NULL)
                report_over_van(&maker, sheet, faults);
        }
    }
    layout->parts_area = maker.parts_area;
    layout->kept_area = maker.kept_area;
}

struct ladder_count dwi_layout_try(const struct dw_parts *const *jobs, const struct dw_cut_plan *plan, struct given_up *given_up,
                                   struct dw_arena *arena, struct dw_material_layout *layout)
{
    const struct dw_layout_problem *problem = layout->problem;
    for (;;) { /* ends: every round gives up one more of the plan's offcuts */
        *layout = (struct dw_material_layout){.problem = problem};
        dwi_layout_pieces(jobs, plan, given_up, arena, NULL, layout);
        for (size_t s = 0; s < layout->sheet_count; s++)
            if (layout->sheets[s].over_van)
                return (struct ladder_count){.whole = false};
        const struct ladder_count count = dwi_ladder_count(jobs, arena, layout);
        if (count.whole || count.stuck == NULL)
            return count;
        given_up->marks = dw_arena_grow(arena, given_up->marks, given_up->count, &given_up->capacity, sizeof *given_up->marks);
        given_up->marks[given_up->count++] = count.stuck;
    }
}
