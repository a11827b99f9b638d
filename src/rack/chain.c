/* chain.c - a plan and those it follows, read from the ledger. One statement is open at a time, so that whoever catches memory that ran out can
 * close it. */
#include "chain.h"

#include <assert.h>
#include <string.h>

#include <drawerwright/memory.h>

#include "ledger.h"

struct loading {
    struct dw_rack *rack;
    struct dw_arena *arena;
    const char *asked;
    struct dwi_chain *chain;
    sqlite3_stmt *open;
    bool failed;      /* the ledger refused */
    bool unsound;     /* what it holds makes no sense */
};

/* Opens a statement about a plan's number, or about its mark. */
static void ask(struct loading *loading, const char *sql, int64_t number, const char *mark)
{
    loading->open = dwi_ledger_prepare(loading->rack, sql);
    loading->failed = loading->failed || loading->open == NULL;
    if (loading->open == NULL)
        return;
    if (mark != NULL)
        dwi_ledger_bind_text(loading->open, 1, mark);
    else
        (void)sqlite3_bind_int64(loading->open, 1, number);
}

/* Moves to the next row; closes the statement behind the last one. */
static bool next(struct loading *loading)
{
    const int step = loading->open == NULL ? SQLITE_DONE : sqlite3_step(loading->open);
    if (step == SQLITE_ROW)
        return true;
    loading->failed = loading->failed || step != SQLITE_DONE;
    (void)sqlite3_finalize(loading->open);
    loading->open = NULL;
    return false;
}

static const char *text(const struct loading *loading, int column)
{
    return dwi_ledger_column_text(loading->arena, loading->open, column);
}

static int64_t integer(const struct loading *loading, int column)
{
    return sqlite3_column_int64(loading->open, column);
}

/* A panel or piece by number; NULL stands for none. */
static size_t number_or_none(const struct loading *loading, int column)
{
    return sqlite3_column_type(loading->open, column) == SQLITE_NULL ? DW_NO_PANEL : (size_t)integer(loading, column);
}

static void load_pieces(struct loading *loading, struct dwi_link *link)
{
    struct dw_work_piece *pieces = NULL;
    size_t capacity = 0;
    ask(loading, "SELECT mark, name, material, thickness, length, width FROM work_piece WHERE work = ? ORDER BY at", link->number, NULL);
    while (next(loading)) {
        pieces = dw_arena_grow(loading->arena, pieces, link->plan.piece_count, &capacity, sizeof *pieces);
        pieces[link->plan.piece_count++] = (struct dw_work_piece){.mark = text(loading, 0), .name = text(loading, 1), .material = text(loading, 2),
                                                                  .thickness = integer(loading, 3), .length = integer(loading, 4), .width = integer(loading, 5)};
    }
    link->plan.pieces = pieces;
}

static void load_panels(struct loading *loading, struct dwi_link *link)
{
    struct dw_work_panel *panels = NULL;
    size_t capacity = 0;
    ask(loading, "SELECT name, sheet, material, source, use, piece, length, width, grain_across, value, trim_x_low, trim_x_high, trim_y_low, trim_y_high"
                 " FROM work_panel WHERE work = ? ORDER BY at", link->number, NULL);
    while (next(loading)) {
        panels = dw_arena_grow(loading->arena, panels, link->plan.panel_count, &capacity, sizeof *panels);
        struct dw_work_panel *panel = &panels[link->plan.panel_count++];
        *panel = (struct dw_work_panel){.name = text(loading, 0), .sheet = text(loading, 1), .material = text(loading, 2), .source = text(loading, 3),
                                        .use = (enum dw_panel_use)integer(loading, 4), .piece = number_or_none(loading, 5),
                                        .length = integer(loading, 6), .width = integer(loading, 7), .grain_across = integer(loading, 8) != 0,
                                        .value = integer(loading, 9)};
        for (int i = 0; i < 4; i++)
            panel->trim[i] = integer(loading, 10 + i);
    }
    link->plan.panels = panels;
}

static void load_passes(struct loading *loading, struct dwi_link *link)
{
    struct dw_work_pass *passes = NULL;
    size_t capacity = 0;
    ask(loading, "SELECT step, panel, off, rest FROM work_pass WHERE work = ? ORDER BY at", link->number, NULL);
    while (next(loading)) {
        passes = dw_arena_grow(loading->arena, passes, link->plan.pass_count, &capacity, sizeof *passes);
        passes[link->plan.pass_count++] = (struct dw_work_pass){.step = integer(loading, 0), .panel = (size_t)integer(loading, 1),
                                                                .off = number_or_none(loading, 2), .rest = number_or_none(loading, 3)};
    }
    link->plan.passes = passes;
}

static void load_goods(struct loading *loading, struct dwi_link *link)
{
    struct dw_goods *goods = NULL;
    size_t capacity = 0;
    ask(loading, "SELECT id, what, wanted, bought FROM work_goods WHERE work = ? ORDER BY at", link->number, NULL);
    while (next(loading)) {
        goods = dw_arena_grow(loading->arena, goods, link->plan.goods_count, &capacity, sizeof *goods);
        goods[link->plan.goods_count++] =
            (struct dw_goods){.id = text(loading, 0), .what = text(loading, 1), .wanted = integer(loading, 2), .bought = integer(loading, 3)};
    }
    link->plan.goods = goods;
}

static void load_marks(struct loading *loading, struct dwi_link *link)
{
    ask(loading, "SELECT m.number, m.at, m.what, m.target, m.step, m.edge, m.depth, m.note, EXISTS(SELECT 1 FROM mark r WHERE r.reverses = m.number)"
                 " FROM mark m WHERE m.work = ? AND m.reverses IS NULL ORDER BY m.number", link->number, NULL);
    while (next(loading)) {
        link->marks = dw_arena_grow(loading->arena, link->marks, link->mark_count, &link->capacity, sizeof *link->marks);
        link->marks[link->mark_count++] = (struct dw_marked){
            .number = integer(loading, 0), .when = text(loading, 1), .plan = link->plan.mark, .taken_back = integer(loading, 8) != 0,
            .mark = {.kind = (enum dw_mark_kind)integer(loading, 2), .target = text(loading, 3), .step = integer(loading, 4),
                     .edge = (int)integer(loading, 5), .depth = integer(loading, 6), .note = text(loading, 7)}};
    }
    ask(loading, "SELECT coalesce(max(number), 0) FROM mark WHERE work = ?", link->number, NULL);
    while (next(loading))
        loading->chain->last = integer(loading, 0) > loading->chain->last ? integer(loading, 0) : loading->chain->last;
}

/* One plan's own row; false when no plan of that mark is entered. */
static bool load_link(struct loading *loading, const char *mark, struct dwi_link *link)
{
    bool found = false;
    *link = (struct dwi_link){.number = 0};
    ask(loading, "SELECT number, mark, jobs, follows, seen FROM working WHERE mark = ?", 0, mark);
    while (next(loading)) {
        link->number = integer(loading, 0);
        link->plan = (struct dw_work_plan){.mark = text(loading, 1), .jobs = text(loading, 2), .follows = text(loading, 3), .seen = integer(loading, 4)};
        found = true;
    }
    return found;
}

/* What a plan follows was entered before it, so that a chain has an end; the numbers hold that, whatever a file may say. */
static void load_links(struct loading *loading)
{
    struct dwi_chain *chain = loading->chain;
    size_t capacity = 0;
    struct dwi_link link;
    const char *mark = loading->asked;
    while (mark[0] != '\0' && load_link(loading, mark, &link) && (chain->count == 0 || link.number < chain->links[chain->count - 1].number)) {
        chain->links = dw_arena_grow(loading->arena, chain->links, chain->count, &capacity, sizeof *chain->links);
        chain->links[chain->count++] = link;
        mark = link.plan.follows;
    }
    for (size_t i = 0; i < chain->count / 2; i++) {
        link = chain->links[i];
        chain->links[i] = chain->links[chain->count - 1 - i];
        chain->links[chain->count - 1 - i] = link;
    }
}

static bool is_below(size_t number, size_t count)
{
    return number == DW_NO_PANEL || number < count;
}

/* Numbers that lead nowhere mean that something else has written to the file. */
static bool is_sound(const struct dw_work_plan *plan)
{
    assert((plan->panel_count == 0 || plan->panels != NULL) && (plan->pass_count == 0 || plan->passes != NULL));
    for (size_t i = 0; i < plan->panel_count; i++) {
        const struct dw_work_panel *panel = &plan->panels[i];
        if (!is_below(panel->piece, plan->piece_count) || (panel->use == DW_PANEL_PIECE && panel->piece == DW_NO_PANEL))
            return false;
    }
    for (size_t i = 0; i < plan->pass_count; i++) {
        const struct dw_work_pass *pass = &plan->passes[i];
        if (pass->panel >= plan->panel_count || !is_below(pass->off, plan->panel_count) || !is_below(pass->rest, plan->panel_count))
            return false;
        if (pass->off == pass->panel || pass->rest == pass->panel)
            return false;
    }
    return true;
}

static void load_body(void *context)
{
    struct loading *loading = context;
    struct dwi_chain *chain = loading->chain;
    load_links(loading);
    for (size_t i = 0; i < chain->count; i++) {
        struct dwi_link *link = &chain->links[i];
        load_pieces(loading, link);
        load_panels(loading, link);
        load_passes(loading, link);
        load_goods(loading, link);
        load_marks(loading, link);
        loading->unsound = loading->unsound || !is_sound(&link->plan);
        ask(loading, "SELECT 1 FROM posting p WHERE p.plan = ? AND p.reverses IS NULL AND NOT EXISTS (SELECT 1 FROM posting r WHERE r.reverses = p.number)",
            0, link->plan.mark);
        while (next(loading))
            chain->posted = true;
    }
    ask(loading, "SELECT mark FROM working WHERE follows = ? ORDER BY number LIMIT 1", 0, loading->asked);
    while (next(loading))
        chain->replaced_by = text(loading, 0);
}

enum dw_status dwi_chain_read(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults, struct dwi_chain *chain)
{
    struct loading loading = {.rack = rack, .arena = arena, .asked = plan, .chain = chain};
    *chain = (struct dwi_chain){.replaced_by = ""};
    const bool whole = dw_arena_guard(arena, load_body, &loading);
    (void)sqlite3_finalize(loading.open);
    if (!whole) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the ledger was read");
        return DW_SURROUNDINGS;
    }
    if (loading.failed)
        return dwi_ledger_refuse(rack, faults);
    if (loading.unsound) {
        dw_error(faults, DW_SURROUNDINGS, "rack", plan, "what the ledger holds of this plan does not hang together\ntake the ledger from a copy");
        return DW_SURROUNDINGS;
    }
    if (chain->count > 0)
        return DW_DONE;
    dw_error(faults, DW_IMPOSSIBLE, "plan-unknown", plan, "no plan of this mark is entered in this ledger\nenter it by its file: drawerwright done PLAN.json");
    return DW_IMPOSSIBLE;
}
