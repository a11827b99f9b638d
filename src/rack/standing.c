/* standing.c - where the work on a chain of plans stands: its benches one after the other, each taking from what the ones before left. */
#include "chain.h"

#include <assert.h>
#include <string.h>

#include <drawerwright/memory.h>

struct standing {
    struct dw_arena *arena;
    struct dw_progress *progress;
    struct dw_made_piece *cut;
    struct dw_left_panel *left;
    const char **racked;
    struct dw_taken *taken;
    struct dw_marked *history;
    size_t cut_capacity, taken_capacity, left_capacity, racked_capacity, history_capacity;
};

/* "R12": a number of the rack. */
static bool is_rack_id(const char *id)
{
    return id[0] == 'R' && id[1] != '\0' && strspn(id + 1, "0123456789") == strlen(id + 1);
}

/* One more sheet of those that a material offers. */
static void take_offered(struct standing *standing, const char *material, const char *sheet)
{
    struct dw_progress *progress = standing->progress;
    assert(progress->taken_count == 0 || standing->taken != NULL);
    for (size_t i = 0; i < progress->taken_count; i++)
        if (strcmp(standing->taken[i].material, material) == 0 && strcmp(standing->taken[i].sheet, sheet) == 0) {
            standing->taken[i].count++;
            return;
        }
    standing->taken = dw_arena_grow(standing->arena, standing->taken, progress->taken_count, &standing->taken_capacity, sizeof *standing->taken);
    standing->taken[progress->taken_count++] = (struct dw_taken){.material = material, .sheet = sheet, .count = 1};
}

/* What is known of a sheet from before: its number in the rack, where it is a whole offcut of it, and what was noted of it. */
struct known {
    const char *racked, *note;
};

/* What an earlier plan left and this one takes as a sheet is no longer left. */
static struct known take_sheet(struct standing *standing, const char *material, const char *source)
{
    struct dw_progress *progress = standing->progress;
    assert(progress->left_count == 0 || standing->left != NULL);
    for (size_t i = 0; i < progress->left_count; i++)
        if (strcmp(standing->left[i].id, source) == 0) {
            const struct known known = {standing->left[i].racked, standing->left[i].note};
            memmove(&standing->left[i], &standing->left[i + 1], (progress->left_count - i - 1) * sizeof *standing->left);
            progress->left_count--;
            return known;
        }
    if (!is_rack_id(source)) {
        take_offered(standing, material, source);
        return (struct known){"", ""};
    }
    standing->racked = dw_arena_grow(standing->arena, standing->racked, progress->racked_count, &standing->racked_capacity, sizeof *standing->racked);
    standing->racked[progress->racked_count++] = source;
    return (struct known){source, ""};
}

/* A piece of an earlier plan, spoiled since. */
static void lose_cut(struct standing *standing, const char *mark)
{
    struct dw_progress *progress = standing->progress;
    assert(progress->cut_count == 0 || standing->cut != NULL);
    for (size_t i = 0; i < progress->cut_count; i++)
        if (strcmp(standing->cut[i].piece.mark, mark) == 0) {
            memmove(&standing->cut[i], &standing->cut[i + 1], (progress->cut_count - i - 1) * sizeof *standing->cut);
            progress->cut_count--;
            return;
        }
}

/* Only what the last plan says of a size counts. */
static void change_cut(struct standing *standing, const struct dwi_link *link)
{
    assert(standing->progress->cut_count == 0 || standing->cut != NULL);
    for (size_t i = 0; i < standing->progress->cut_count; i++)
        standing->cut[i].changed = "";
    for (size_t m = 0; m < link->mark_count; m++)
        for (size_t i = 0; i < standing->progress->cut_count; i++)
            if (link->marks[m].mark.kind == DW_MARK_CHANGED && strcmp(standing->cut[i].piece.mark, link->marks[m].mark.target) == 0)
                standing->cut[i].changed = link->marks[m].mark.note;
}

static void add_history(struct standing *standing, const struct dwi_link *link)
{
    struct dw_progress *progress = standing->progress;
    for (size_t i = 0; i < link->mark_count; i++) {
        standing->history = dw_arena_grow(standing->arena, standing->history, progress->history_count, &standing->history_capacity,
                                          sizeof *standing->history);
        standing->history[progress->history_count++] = link->marks[i];
    }
}

static void add_panel(struct standing *standing, const struct dwi_bench *bench, size_t p, const char *racked)
{
    struct dw_progress *progress = standing->progress;
    const struct dw_work_panel *panel = &bench->plan->panels[p];
    if (panel->use == DW_PANEL_PIECE) {
        standing->cut = dw_arena_grow(standing->arena, standing->cut, progress->cut_count, &standing->cut_capacity, sizeof *standing->cut);
        standing->cut[progress->cut_count++] = (struct dw_made_piece){.piece = bench->plan->pieces[panel->piece], .plan = bench->plan->mark,
                                                                    .measured = bench->thickness[p], .changed = ""};
    } else if (panel->use != DW_PANEL_WASTE) {
        standing->left = dw_arena_grow(standing->arena, standing->left, progress->left_count, &standing->left_capacity, sizeof *standing->left);
        struct dw_left_panel *left = &standing->left[progress->left_count++];
        *left = (struct dw_left_panel){.panel = *panel, .id = dw_arena_format(standing->arena, "%s/%s", bench->plan->mark, panel->name),
                                        .thickness = bench->thickness[p], .note = bench->note[p], .racked = racked};
        memcpy(left->panel.trim, bench->trim[p], sizeof left->panel.trim);
        for (int edge = 0; edge < 4; edge++)
            left->racked = left->panel.trim[edge] > 0 ? "" : left->racked;
    }
}

/* A note stays with a sheet until another one is made. */
static void take_panel(struct standing *standing, const struct dwi_bench *bench, size_t p, const char **racked)
{
    const struct dw_work_panel *panel = &bench->plan->panels[p];
    struct known known = {"", ""};
    if (bench->maker[p] == DW_NO_PANEL)
        known = take_sheet(standing, panel->material, panel->source);
    if (known.note[0] != '\0' && bench->note[p][0] == '\0')
        dwi_bench_note(bench, p, known.note);
    *racked = known.racked;
}

static void add_link(struct standing *standing, const struct dwi_link *link, const struct dwi_bench *bench)
{
    const struct dw_work_plan *plan = &link->plan;
    const char **racked = dw_arena_alloc(standing->arena, plan->panel_count, sizeof *racked);
    change_cut(standing, link);
    for (size_t p = 0; p < plan->panel_count; p++)
        take_panel(standing, bench, p, &racked[p]);
    for (size_t i = 0; i < link->mark_count; i++)
        if (link->marks[i].mark.kind == DW_MARK_SPOILED && !link->marks[i].taken_back && dwi_bench_find(bench, link->marks[i].mark.target) == DW_NO_PANEL)
            lose_cut(standing, link->marks[i].mark.target);
    for (size_t p = 0; p < plan->panel_count; p++)
        if (dwi_bench_has(bench, p))
            add_panel(standing, bench, p, racked[p]);
    add_history(standing, link);
}

static const enum dw_piece_state *states_of(const struct dwi_bench *bench, struct dw_arena *arena)
{
    enum dw_piece_state *states = dw_arena_alloc(arena, bench->plan->piece_count, sizeof *states);
    for (size_t p = 0; p < bench->plan->panel_count; p++)
        if (bench->plan->panels[p].use == DW_PANEL_PIECE)
            states[bench->plan->panels[p].piece] = bench->lost[p] ? DW_PIECE_SPOILED : dwi_bench_has(bench, p) ? DW_PIECE_CUT : DW_PIECE_TO_CUT;
    return states;
}

static const int64_t *since_of(const struct dwi_link *link, struct dw_arena *arena)
{
    int64_t *since = dw_arena_alloc(arena, link->plan.piece_count, sizeof *since);
    const int64_t *panels = dwi_bench_since(link, arena);
    for (size_t p = 0; p < link->plan.panel_count; p++)
        if (link->plan.panels[p].use == DW_PANEL_PIECE)
            since[link->plan.panels[p].piece] = panels[p];
    return since;
}

static const bool *lost_of(const struct dwi_bench *bench, struct dw_arena *arena)
{
    bool *lost = dw_arena_alloc(arena, bench->plan->panel_count, sizeof *lost);
    for (size_t p = 0; p < bench->plan->panel_count; p++)
        lost[p] = dwi_bench_is_lost(bench, p);
    return lost;
}

struct dw_progress *dwi_progress_of(const struct dwi_chain *chain, struct dw_arena *arena)
{
    struct dw_progress *progress = dw_arena_alloc(arena, 1, sizeof *progress);
    struct standing standing = {.arena = arena, .progress = progress};
    for (size_t i = 0; i < chain->count; i++) {
        const struct dwi_bench bench = dwi_bench_of(&chain->links[i], arena);
        add_link(&standing, &chain->links[i], &bench);
        if (i + 1 == chain->count) {
            progress->plan = chain->links[i].plan;
            progress->states = states_of(&bench, arena);
            progress->since = since_of(&chain->links[i], arena);
            progress->made = bench.made;
            progress->lost = lost_of(&bench, arena);
        }
    }
    progress->replaced_by = chain->replaced_by;
    progress->cut = standing.cut;
    progress->left = standing.left;
    progress->taken = standing.taken;
    progress->racked = standing.racked;
    progress->history = standing.history;
    progress->last = chain->last;
    progress->posted = chain->posted;
    return progress;
}
