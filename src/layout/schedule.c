/* schedule.c - which cut comes when.
 *
 * A *task* is a panel in hand and the node of the layout that says what it is to be cut into. Each piece of the node is an *event*: a pass
 * of the saw that takes the piece off at a setting and leaves the rest for the task's next event. The pieces of parallel cuts may come off
 * in any order (matched fronts excepted), so all of a task's events are open at once; a piece that is cut further becomes a task of its own
 * and opens its events. Events of one kind and size share a *key*. A rung is a key and everything open at it, across all sheets. What is
 * chosen next decides how many rungs there are: with a key that will open again later, the fence must come back. Finding the fewest is
 * hard in general (it contains the shortest common supersequence); two greedy rules are tried and the better one kept.
 *
 * Trims. Where a saw can, a sheet's factory edges are trimmed before anything else. Where none can (a wide sheet on a small table saw),
 * the trim stays *pending* and goes over to the pieces: across the cuts every piece takes it over; along them the first piece is cut over
 * size by it and trimmed by itself, and past the last one the factory edge falls off as waste.
 *
 * Rough cuts come before all of that: the panels of a rough node come off the sheet as bought, in their order, each with what is over at its rough
 * edges. That is pending on them like a trim. Factory edges are trimmed first where a saw can, then the rough ones (so that a fence can bring the
 * panel to size, the clean edge against it), then what factory edges are left.
 *
 * The last piece of a node is what is left over, without a cut of its own, where its size comes out exactly.
 */
#include "ladder.h"

#include <string.h>

#include <drawerwright/memory.h>

#include "frame.h"
#include "nodes.h"

enum { X_LOW, X_HIGH, Y_LOW, Y_HIGH, SIDES };

/* Edges that are still on a panel: how much is to come off, and whether it was cut roughly (else it is the factory's). */
struct edges {
    dw_length at[SIDES];
    bool rough[SIDES];
};

struct task {
    const struct dw_layout_node *node;
    const char *name;
    size_t panel;             /* in hand now */
    size_t sheet;
    bool root;                /* the panel is a sheet as bought */
    bool fresh;               /* ... or comes off one by a rough cut: its edges are trimmed before all true cuts */
    struct edges pending;
    int trimming;             /* which of its edges were looked at: the factory's, the rough ones, the factory's again */
    size_t trims;             /* trim events to come before all others */
    size_t planned;           /* pieces that come off by a cut of their own */
    size_t open;              /* of them, still to come */
};

struct event {
    struct task *task;
    size_t piece;             /* of the node; SIZE_MAX: a trim */
    int side;                 /* of a trim */
    dw_length size;
    bool done;
};

struct key {
    enum dw_ladder_kind kind;
    bool first;               /* trims: of sheets as bought, or broken down */
    dw_length size;
    size_t future;            /* events known to come that are not open yet */
    struct event *open;       /* in the order they opened */
    size_t open_count, open_capacity;
};

struct plan {
    const struct dw_parts *const *jobs;
    const struct saws *saws;
    enum order_rule rule;
    dw_length over;           /* of what is cut roughly, at each rough edge */
    struct dw_arena *arena;
    struct dw_faults *faults;
    const struct dw_material_layout *layout;
    struct key **keys;
    size_t key_count, key_capacity;
    size_t *lettered;         /* of each sheet, how many of its panels have a letter */
    struct schedule out;
};

/* ---- what a node asks for ---- */

/* What remains past the last piece of a node. */
static dw_length rest_of(const struct plan *plan, const struct dw_layout_node *node)
{
    dw_length rest = dwi_size_along(node, node->cut) + plan->saws->kerf;
    for (size_t i = 0; i < node->piece_count; i++)
        rest -= dwi_size_along(&node->pieces[i], node->cut) + plan->saws->kerf;
    return rest;
}

/* True when the last wanted piece is simply what is left over. */
static bool is_left_over(const struct plan *plan, const struct dw_layout_node *node)
{
    const size_t useful = dwi_useful_count(node);
    if (useful == 0 || useful < node->piece_count)
        return false;
    if (node->pieces[useful - 1].use == DW_NODE_KEEP)
        return true;
    return plan->saws->exact && rest_of(plan, node) == 0;
}

static size_t cut_count(const struct plan *plan, const struct dw_layout_node *node)
{
    if (node->rough)
        return dwi_useful_count(node) - (dwi_useful_count(node) == node->piece_count ? 1 : 0);
    return dwi_useful_count(node) - (is_left_over(plan, node) ? 1 : 0);
}

/* A rip goes along the grain of the sheet, whichever way the sheet lies; across a whole sheet it is breaking down. */
static enum dw_ladder_kind kind_of(const struct plan *plan, const struct task *task)
{
    const struct dw_layout_sheet *sheet = &plan->layout->sheets[task->sheet];
    if (task->node->rough)
        return sheet->broken == DW_SHEET_YARD ? DW_LADDER_YARD : DW_LADDER_ROUGH;
    const bool turned = plan->layout->problem->sources[sheet->source].grain_across;
    if ((task->node->cut == DW_RIP) != turned)
        return DW_LADDER_RIP;
    return task->root ? DW_LADDER_BREAKDOWN : DW_LADDER_CROSSCUT;
}

/* ---- keys ---- */

static struct key *key_for(struct plan *plan, enum dw_ladder_kind kind, bool first, dw_length size)
{
    for (size_t i = 0; i < plan->key_count; i++)
        if (plan->keys[i]->kind == kind && plan->keys[i]->first == first && plan->keys[i]->size == size)
            return plan->keys[i];
    plan->keys = dw_arena_grow(plan->arena, plan->keys, plan->key_count, &plan->key_capacity, sizeof *plan->keys);
    plan->keys[plan->key_count] = dw_arena_copy(plan->arena, &(struct key){.kind = kind, .first = first, .size = size}, 1, sizeof **plan->keys);
    return plan->keys[plan->key_count++];
}

static void open_event(struct plan *plan, struct event event, enum dw_ladder_kind kind)
{
    struct key *key = key_for(plan, kind, kind == DW_LADDER_TRIM && event.task->fresh, event.size);
    key->open = dw_arena_grow(plan->arena, key->open, key->open_count, &key->open_capacity, sizeof *key->open);
    key->open[key->open_count++] = event;
}

/* Counts the events of a tree as future ones, by the same rules by which they will open. */
static void foresee(struct plan *plan, const struct task *task)
{
    const struct dw_layout_node *node = task->node;
    if (node->use != DW_NODE_CUT)
        return;
    const size_t cuts = cut_count(plan, node);
    for (size_t i = 0; i < node->piece_count; i++) {
        if (i < cuts && !node->rough)
            key_for(plan, kind_of(plan, task), false, dwi_size_along(&node->pieces[i], node->cut))->future++;
        foresee(plan, &(struct task){.node = &node->pieces[i], .sheet = task->sheet});
    }
}

/* ---- panels ---- */

static size_t add_panel(struct plan *plan, struct dw_panel panel)
{
    struct schedule *out = &plan->out;
    out->panels = dw_arena_grow(plan->arena, out->panels, out->panel_count, &out->panel_capacity, sizeof *out->panels);
    out->panels[out->panel_count] = panel;
    return out->panel_count++;
}

static int low_side(enum dw_cut cut)
{
    return cut == DW_CROSSCUT ? X_LOW : Y_LOW;
}

static struct pass pass_for(const struct plan *plan, const struct task *task, enum dw_cut cut, dw_length size)
{
    const struct dw_panel *panel = &plan->out.panels[task->panel];
    const bool crosscut = cut == DW_CROSSCUT;
    const int low = low_side(cut);
    return (struct pass){.along = crosscut ? panel->width : panel->length, .across = crosscut ? panel->length : panel->width, .size = size,
                         .rough_edge = task->pending.rough[low], .rough_far = task->pending.rough[low + 1]};
}

/* What is pending at a side comes off; the other side is against the fence, if one there is. */
static struct pass trim_pass(const struct plan *plan, const struct task *task, int side)
{
    struct pass pass = pass_for(plan, task, side < Y_LOW ? DW_CROSSCUT : DW_RIP, task->pending.at[side]);
    pass.trim = true;
    pass.off_rough = task->pending.rough[side];
    pass.rough_edge = task->pending.rough[side ^ 1];
    return pass;
}

/* ---- tasks ---- */

static void begin(struct plan *plan, struct task *task);

/* "S1-a", "S1-b" in the order in which a sheet's panels come to hand, "S1-aa" after "S1-z". I, l and o look like figures on tape. */
static const char *next_name(struct plan *plan, size_t sheet)
{
    static const char letters[] = "abcdefghjkmnpqrstuvwxyz";
    enum { LETTERS = sizeof letters - 1, DIGITS = 16 };
    char tail[DIGITS];
    size_t at = DIGITS;
    tail[--at] = '\0';
    for (size_t number = ++plan->lettered[sheet]; number > 0; number = (number - 1) / LETTERS)
        tail[--at] = letters[(number - 1) % LETTERS];
    return dw_arena_format(plan->arena, "%s-%s", plan->layout->sheets[sheet].name, tail + at);
}

/* A panel becomes what the node says: a piece, an offcut, or a task of its own. */
static void become(struct plan *plan, size_t panel_index, const struct dw_layout_node *node, const struct task *from, const struct edges *pending)
{
    struct dw_panel *panel = &plan->out.panels[panel_index];
    panel->use = dwi_is_wanted(node) ? node->use : DW_NODE_WASTE;
    panel->name = node->mark;
    panel->piece = node->piece;
    panel->node = node;
    if (panel->use == DW_NODE_CUT)
        panel->name = next_name(plan, from->sheet);
    if (panel->use == DW_NODE_WASTE || panel->use == DW_NODE_KEEP)
        return; /* a factory or rough edge may stay on an offcut */
    struct task *task = dw_arena_alloc(plan->arena, 1, sizeof *task);
    *task = (struct task){.node = node, .name = panel->name, .panel = panel_index, .sheet = from->sheet, .fresh = from->node->rough, .pending = *pending};
    begin(plan, task);
}

static void set_edge(struct edges *edges, int side, dw_length size, bool rough)
{
    edges->at[side] = size;
    edges->rough[side] = rough && size > 0;
}

/* What a piece takes over of its task's pending trims. After a rough cut what is over comes to it, and the last panel has the far edge. */
static struct edges hand_down(const struct plan *plan, const struct task *task, size_t place)
{
    struct edges edges = task->pending;
    const struct dw_layout_node *node = task->node;
    const int low = low_side(node->cut);
    const dw_length over = node->rough ? plan->over : 0;
    if (place > 0)
        set_edge(&edges, low, over, true);
    if (!node->rough || place + 1 < node->piece_count)
        set_edge(&edges, low + 1, over, true);
    return edges;
}

static void report_impossible(struct plan *plan, const struct task *task, const struct dw_layout_node *piece, const struct pass *pass)
{
    plan->out.whole = false;
    if (plan->out.stuck == NULL && dwi_first_part(piece) == NULL)
        plan->out.stuck = dwi_first_kept(piece);
    if (plan->faults == NULL)
        return;
    const struct dw_layout_node *part = dwi_first_part(piece);
    if (part == NULL)
        part = dwi_first_part(task->node);
    if (part == NULL)
        part = dwi_first_part(&plan->layout->sheets[task->sheet].root);
    struct dw_arena *arena = plan->arena;
    dw_error(plan->faults, DW_IMPOSSIBLE, "no-saw", dwi_layout_address(arena, piece_of(plan->jobs, part->piece)),
             "no saw of the shop can %s %s off a panel of %s, along an edge of %s, on the way to %s\nanother first cut, fewer turns, a track saw, or "
             "sheets cut down first (handle_length and handle_width, van_length and van_width)",
             pass->trim ? "trim" : "cut", dwi_layout_show(arena, plan->jobs, pass->size), dwi_layout_show(arena, plan->jobs, pass->across),
             dwi_layout_show(arena, plan->jobs, pass->along), dwi_layout_piece_words(arena, plan->jobs, part->piece));
}

static void open_piece(struct plan *plan, struct task *task, size_t place)
{
    const struct dw_layout_node *node = task->node;
    const struct edges edges = hand_down(plan, task, place);
    const int low = low_side(node->cut);
    const dw_length over = edges.at[low] + (node->rough ? edges.at[low + 1] : 0);
    open_event(plan, (struct event){.task = task, .piece = place, .size = dwi_size_along(&node->pieces[place], node->cut) + over}, kind_of(plan, task));
}

/* When the last event of a task is done, what is left over is its last piece, or waste. */
static void end_task(struct plan *plan, struct task *task)
{
    if (task->panel == DW_NO_INDEX)
        return;
    const struct dw_layout_node *node = task->node;
    const size_t last = dwi_useful_count(node) - 1;
    if (task->planned > last) {
        plan->out.panels[task->panel].use = DW_NODE_WASTE;
        plan->out.panels[task->panel].name = "";
        return;
    }
    const struct edges pending = hand_down(plan, task, last);
    become(plan, task->panel, &node->pieces[last], task, &pending);
}

/* Opens the cuts of a task whose trims are done: all of them, or of a matched group the next one. A factory edge past the last piece
 * makes that one come off by a cut too. */
static void open_pieces(struct plan *plan, struct task *task)
{
    const struct dw_layout_node *node = task->node;
    const size_t useful = dwi_useful_count(node), counted = cut_count(plan, node);
    const bool past_last = !node->rough && task->pending.at[low_side(node->cut) + 1] > 0 && node->pieces[useful - 1].use != DW_NODE_KEEP;
    task->planned = task->open = past_last ? useful : counted;
    for (size_t i = 0; i < counted && !node->rough; i++)
        key_for(plan, kind_of(plan, task), false, dwi_size_along(&node->pieces[i], node->cut))->future--;
    for (size_t i = 0; i < task->open && (i == 0 || !node->in_order); i++)
        open_piece(plan, task, i);
    if (task->open == 0)
        end_task(plan, task);
}

/* After its trims: a task opens its cuts; a piece must be free of factory and rough edges by now. */
static void go_on(struct plan *plan, struct task *task)
{
    if (task->node->use == DW_NODE_CUT) {
        open_pieces(plan, task);
        return;
    }
    plan->out.panels[task->panel].name = task->node->mark; /* a whole sheet may be one piece */
    for (int side = 0; side < SIDES; side++)
        if (task->pending.at[side] > 0) {
            const struct pass pass = trim_pass(plan, task, side);
            report_impossible(plan, task, task->node, &pass);
            return;
        }
}

/* Opens the trims of rough or of factory edges that a saw can make on this panel; the others stay pending. */
static void open_trims(struct plan *plan, struct task *task, bool rough)
{
    static const int order[] = {Y_LOW, Y_HIGH, X_LOW, X_HIGH};
    for (size_t i = 0; i < SIDES; i++) {
        const int side = order[i];
        const struct pass pass = trim_pass(plan, task, side);
        struct way way;
        if (task->pending.at[side] == 0 || task->pending.rough[side] != rough || !dwi_saws_way(plan->saws, &pass, &way))
            continue;
        task->trims++;
        open_event(plan, (struct event){.task = task, .piece = SIZE_MAX, .side = side, .size = task->pending.at[side]}, DW_LADDER_TRIM);
    }
}

/* A panel comes to hand, or some of its trims are done: on to the next ones, or to its cuts. What is cut roughly is not trimmed before. */
static void begin(struct plan *plan, struct task *task)
{
    enum { TRIMMINGS = 3 };
    while (task->trims == 0 && task->trimming < TRIMMINGS && !task->node->rough)
        open_trims(plan, task, task->trimming++ == 1);
    if (task->trims == 0)
        go_on(plan, task);
}

/* ---- cutting ---- */

static struct pass pass_of(const struct plan *plan, const struct event *event)
{
    const struct task *task = event->task;
    if (event->piece == SIZE_MAX)
        return trim_pass(plan, task, event->side);
    struct pass pass = pass_for(plan, task, task->node->cut, event->size);
    pass.whole_sheet = kind_of(plan, task) == DW_LADDER_BREAKDOWN;
    return pass;
}

static bool way_of(const struct plan *plan, const struct event *event, const struct pass *pass, struct way *way)
{
    if (event->piece == SIZE_MAX || !event->task->node->rough)
        return dwi_saws_way(plan->saws, pass, way);
    return dwi_saws_rough_way(plan->saws, plan->layout->sheets[event->task->sheet].broken == DW_SHEET_YARD, pass, way);
}

static bool is_same_way(const struct way *a, const struct way *b)
{
    return a->saw == b->saw && a->guide == b->guide && a->setting == b->setting;
}

/* One pass: the panel in hand becomes what comes off (if anything) and the rest (if anything). */
static struct dw_ladder_cut split(struct plan *plan, struct task *task, enum dw_cut cut, bool high, const struct way *way)
{
    struct dw_ladder_cut made = {.panel = task->panel, .off = DW_NO_INDEX, .rest = DW_NO_INDEX, .cut = cut, .high = high};
    struct dw_panel panel = plan->out.panels[task->panel];
    panel.name = "";
    panel.use = DW_NODE_WASTE;
    panel.node = NULL;
    dw_length *size = cut == DW_CROSSCUT ? &panel.length : &panel.width;
    if (way->off > 0) {
        *size = way->off;
        made.off = add_panel(plan, panel);
    }
    if (way->rest > 0) {
        *size = way->rest;
        panel.name = task->name;
        panel.use = DW_NODE_CUT;
        made.rest = add_panel(plan, panel);
    }
    task->panel = made.rest;
    plan->out.cuts++;
    return made;
}

static void add_cut(struct plan *plan, struct raw_rung *rung, struct dw_ladder_cut cut)
{
    rung->cuts = dw_arena_grow(plan->arena, rung->cuts, rung->cut_count, &rung->cut_capacity, sizeof *rung->cuts);
    rung->cuts[rung->cut_count++] = cut;
}

static void make_trim(struct plan *plan, const struct event *event, const struct way *way, struct raw_rung *rung)
{
    struct task *task = event->task;
    const bool high = event->side == X_HIGH || event->side == Y_HIGH;
    add_cut(plan, rung, split(plan, task, event->side < Y_LOW ? DW_CROSSCUT : DW_RIP, high, way));
    plan->out.panels[task->panel].use = task->node->use;
    plan->out.panels[task->panel].piece = task->node->piece;
    set_edge(&task->pending, event->side, 0, false);
    task->trims--;
    if (task->trims == 0)
        begin(plan, task);
}

static void make_piece(struct plan *plan, const struct event *event, const struct way *way, struct raw_rung *rung)
{
    struct task *task = event->task;
    const struct dw_layout_node *node = task->node;
    const struct dw_ladder_cut cut = split(plan, task, node->cut, false, way);
    add_cut(plan, rung, cut);
    const struct edges pending = hand_down(plan, task, event->piece);
    become(plan, cut.off, &node->pieces[event->piece], task, &pending);
    task->open--;
    if (task->open == 0)
        end_task(plan, task);
    else if (node->in_order)
        open_piece(plan, task, event->piece + 1);
}

/* Takes the events that are done out of a key, the others keep their order. */
static void forget_done(struct key *key)
{
    size_t kept = 0;
    for (size_t i = 0; i < key->open_count; i++)
        if (!key->open[i].done)
            key->open[kept++] = key->open[i];
    key->open_count = kept;
}

/* The edges that trims take off, or the one that a rung's first cut is measured from, where it is still to be trimmed: rough or the factory's. (The
 * outside piece is kept: the fence is at the high side.) */
static void note_edge(struct raw_rung *rung, const struct event *event)
{
    const struct task *task = event->task;
    const int side = event->piece == SIZE_MAX ? event->side : low_side(task->node->cut) + (rung->way.guide == DW_GUIDE_OUTSIDE ? 1 : 0);
    const bool after_rough = task->node->rough && event->piece > 0 && event->piece != SIZE_MAX;
    const bool rough = after_rough || task->pending.rough[side];
    const bool on = (after_rough || task->pending.at[side] > 0) && (rung->kind == DW_LADDER_TRIM || rung->cut_count == 0);
    rung->rough = rung->rough || (on && rough);
    rung->factory = rung->factory || (on && !rough);
}

/* Cuts every open event of the key that goes the given way, those too that open meanwhile; one rung. */
static void make_rung(struct plan *plan, struct key *key, const struct way *way)
{
    struct schedule *out = &plan->out;
    struct raw_rung rung = {.kind = key->kind, .way = *way, .first = key->open[0].task->root};
    for (size_t i = 0; i < key->open_count; i++) {
        const struct event event = key->open[i];
        const struct pass pass = pass_of(plan, &event);
        struct way own;
        if (!way_of(plan, &event, &pass, &own) || !is_same_way(&own, way))
            continue;
        note_edge(&rung, &event);
        key->open[i].done = true;
        if (event.piece == SIZE_MAX)
            make_trim(plan, &event, &own, &rung);
        else
            make_piece(plan, &event, &own, &rung);
    }
    forget_done(key);
    out->rungs = dw_arena_grow(plan->arena, out->rungs, out->rung_count, &out->rung_capacity, sizeof *out->rungs);
    out->rungs[out->rung_count++] = rung;
    out->settings += rung.kind != DW_LADDER_TRIM && rung.kind != DW_LADDER_ROUGH && rung.kind != DW_LADDER_YARD;
}

/* All rungs of a key that is open. Events that no saw can make are reported and dropped, each size once. */
static void work_off(struct plan *plan, struct key *key)
{
    bool reported = false;
    while (key->open_count > 0) {
        const struct event event = key->open[0];
        const struct pass pass = pass_of(plan, &event);
        struct way way;
        if (way_of(plan, &event, &pass, &way)) {
            make_rung(plan, key, &way);
            continue;
        }
        const struct dw_layout_node *node = event.task->node;
        if (!reported)
            report_impossible(plan, event.task, event.piece == SIZE_MAX ? node : &node->pieces[event.piece], &pass);
        reported = true;
        key->open[0].done = true;
        forget_done(key);
    }
}

/* ---- the order ---- */

/* Rough cuts come before all, and the yard's before those; then sheets are trimmed; later trims square the ends of what was ripped, just before the
 * crosscuts. */
enum phase { AT_YARD, ROUGHLY, TRIMS, BREAKDOWN, RIPS, LATE_TRIMS, CROSSCUTS };

static enum phase phase_of(const struct key *key)
{
    switch (key->kind) {
    case DW_LADDER_YARD:
        return AT_YARD;
    case DW_LADDER_ROUGH:
        return ROUGHLY;
    case DW_LADDER_TRIM:
        return key->first ? TRIMS : LATE_TRIMS;
    case DW_LADDER_BREAKDOWN:
        return BREAKDOWN;
    case DW_LADDER_RIP:
        return RIPS;
    case DW_LADDER_CROSSCUT:
        break;
    }
    return CROSSCUTS;
}

/* A matched group is being cut and goes on at this key: its fronts stay together at the saw. */
static bool goes_on(const struct key *key)
{
    for (size_t i = 0; i < key->open_count; i++) {
        const struct task *task = key->open[i].task;
        if (key->open[i].piece != SIZE_MAX && task->node->in_order && task->open < task->planned)
            return true;
    }
    return false;
}

/* The keys differ in phase, kind, first or size, so this is a total order. */
static bool comes_before(const struct key *a, const struct key *b, enum order_rule rule)
{
    const bool a_complete = a->future == 0, b_complete = b->future == 0;
    const enum phase a_phase = phase_of(a), b_phase = phase_of(b);
    if (a_phase != b_phase && (a_phase <= ROUGHLY || b_phase <= ROUGHLY))
        return a_phase < b_phase;
    if (goes_on(a) != goes_on(b))
        return goes_on(a);
    if (rule == ORDER_COMPLETE && a_complete != b_complete)
        return a_complete;
    if (a_phase != b_phase)
        return a_phase < b_phase;
    if (a_complete != b_complete)
        return a_complete;
    return a->size > b->size;
}

static struct key *next_key(const struct plan *plan)
{
    struct key *next = NULL;
    for (size_t i = 0; i < plan->key_count; i++)
        if (plan->keys[i]->open_count > 0 && (next == NULL || comes_before(plan->keys[i], next, plan->rule)))
            next = plan->keys[i];
    return next;
}

/* The trims of a sheet. One that only stands for an allowance (none was asked for) is needed only where a part reaches it. */
static void trims_of(const struct plan *plan, const struct dw_layout_sheet *sheet, dw_length trims[SIDES])
{
    const struct dw_sheet_source *source = &plan->layout->problem->sources[sheet->source];
    const struct dw_material *material = &first_job(plan->jobs)->shop.materials[plan->layout->problem->material];
    const struct extent reach = dwi_reach_of(&sheet->root);
    memcpy(trims, source->trim, SIDES * sizeof *trims);
    if (source->owned)
        return;
    const dw_length *asked = material->sheets[source->offer].trim;
    if (asked[X_HIGH] == 0 && reach.x < source->length - trims[X_HIGH])
        trims[X_HIGH] = 0;
    if (asked[Y_HIGH] == 0 && reach.y < source->width - trims[Y_HIGH])
        trims[Y_HIGH] = 0;
}

/* Every sheet as bought is a panel and a task. */
static void lay_on_bench(struct plan *plan, size_t sheet_index)
{
    const struct dw_layout_sheet *sheet = &plan->layout->sheets[sheet_index];
    const struct dw_sheet_source *source = &plan->layout->problem->sources[sheet->source];
    struct task *task = dw_arena_alloc(plan->arena, 1, sizeof *task);
    *task = (struct task){.node = &sheet->root, .name = sheet->name, .sheet = sheet_index, .root = true, .fresh = true};
    trims_of(plan, sheet, task->pending.at);
    task->panel = add_panel(plan, (struct dw_panel){.name = sheet->name, .sheet = sheet_index, .length = source->length, .width = source->width,
                                                    .use = sheet->root.use, .piece = sheet->root.piece});
    foresee(plan, task);
    begin(plan, task);
}

struct schedule dwi_schedule(const struct dw_parts *const *jobs, const struct saws *saws, enum order_rule rule, struct dw_arena *arena,
                             struct dw_faults *faults, const struct dw_material_layout *layout)
{
    struct plan plan = {.jobs = jobs, .saws = saws, .rule = rule, .over = first_job(jobs)->shop.habits.rough_over, .arena = arena,
                        .faults = faults, .layout = layout, .out = {.whole = true},
                        .lettered = dw_arena_alloc(arena, layout->sheet_count, sizeof *plan.lettered)};
    for (size_t i = 0; i < layout->sheet_count; i++)
        lay_on_bench(&plan, i);
    for (struct key *key = next_key(&plan); key != NULL; key = next_key(&plan))
        work_off(&plan, key);
    return plan.out;
}
