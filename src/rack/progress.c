/* progress.c - entering plans, marking and taking back, each in one transaction of the ledger.
 *
 * Six tables that are only ever added to. `work` is a plan, `work_piece`, `work_panel`, `work_pass` and `work_goods` what it says; `mark` is what the
 * maker marks, and what takes a mark back. A plan counts while its mark "entered" stands (the view `working`).
 */
#include <drawerwright/progress.h>

#include <string.h>

#include <drawerwright/memory.h>

#include "chain.h"
#include "ledger.h"

#define STAYS(table) \
    "CREATE TRIGGER " table "_stays BEFORE UPDATE ON " table " BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;" \
    "CREATE TRIGGER " table "_kept BEFORE DELETE ON " table " BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"

static const char schema[] =
    "CREATE TABLE work(number INTEGER PRIMARY KEY, mark TEXT NOT NULL UNIQUE, jobs TEXT NOT NULL, follows TEXT NOT NULL, seen INTEGER NOT NULL) STRICT;"
    "CREATE TABLE work_piece(work INTEGER NOT NULL REFERENCES work(number), at INTEGER NOT NULL, mark TEXT NOT NULL, name TEXT NOT NULL,"
    " material TEXT NOT NULL, thickness INTEGER NOT NULL, length INTEGER NOT NULL, width INTEGER NOT NULL, PRIMARY KEY(work, at)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE work_panel(work INTEGER NOT NULL REFERENCES work(number), at INTEGER NOT NULL, name TEXT NOT NULL, sheet TEXT NOT NULL,"
    " material TEXT NOT NULL, source TEXT NOT NULL, use INTEGER NOT NULL CHECK(use BETWEEN 0 AND 3), piece INTEGER, length INTEGER NOT NULL,"
    " width INTEGER NOT NULL, grain_across INTEGER NOT NULL, value INTEGER NOT NULL, trim_x_low INTEGER NOT NULL, trim_x_high INTEGER NOT NULL,"
    " trim_y_low INTEGER NOT NULL, trim_y_high INTEGER NOT NULL, PRIMARY KEY(work, at)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE work_pass(work INTEGER NOT NULL REFERENCES work(number), at INTEGER NOT NULL, step INTEGER NOT NULL, panel INTEGER NOT NULL,"
    " off INTEGER, rest INTEGER, PRIMARY KEY(work, at)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE mark(number INTEGER PRIMARY KEY, at TEXT NOT NULL, work INTEGER NOT NULL REFERENCES work(number),"
    " what INTEGER NOT NULL CHECK(what BETWEEN 0 AND 6), target TEXT NOT NULL, step INTEGER NOT NULL, edge INTEGER NOT NULL CHECK(edge BETWEEN 0 AND 3),"
    " depth INTEGER NOT NULL, note TEXT NOT NULL, reverses INTEGER UNIQUE REFERENCES mark(number)) STRICT;"
    "CREATE INDEX mark_work ON mark(work);"
    STAYS("work") STAYS("work_piece") STAYS("work_panel") STAYS("work_pass") STAYS("mark")
    "CREATE VIEW working AS SELECT w.* FROM work w WHERE EXISTS (SELECT 1 FROM mark m WHERE m.work = w.number AND m.what = 0 AND m.reverses IS NULL"
    " AND NOT EXISTS (SELECT 1 FROM mark r WHERE r.reverses = m.number));"
    "PRAGMA user_version = 2;";

/* Version 3 adds what was bought beside sheets, and one more kind of mark: a table whose checks change is made anew, copied and renamed. */
static const char schema_3[] =
    "CREATE TABLE work_goods(work INTEGER NOT NULL REFERENCES work(number), at INTEGER NOT NULL, id TEXT NOT NULL, what TEXT NOT NULL,"
    " wanted INTEGER NOT NULL, bought INTEGER NOT NULL, PRIMARY KEY(work, at)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE mark_3(number INTEGER PRIMARY KEY, at TEXT NOT NULL, work INTEGER NOT NULL REFERENCES work(number),"
    " what INTEGER NOT NULL CHECK(what BETWEEN 0 AND 7), target TEXT NOT NULL, step INTEGER NOT NULL, edge INTEGER NOT NULL CHECK(edge BETWEEN 0 AND 3),"
    " depth INTEGER NOT NULL, note TEXT NOT NULL, reverses INTEGER UNIQUE REFERENCES mark_3(number)) STRICT;"
    "INSERT INTO mark_3 SELECT number, at, work, what, target, step, edge, depth, note, reverses FROM mark ORDER BY number;"
    "DROP VIEW working; DROP TABLE mark; ALTER TABLE mark_3 RENAME TO mark;"
    "CREATE INDEX mark_work ON mark(work);"
    STAYS("work_goods") STAYS("mark")
    "CREATE VIEW working AS SELECT w.* FROM work w WHERE EXISTS (SELECT 1 FROM mark m WHERE m.work = w.number AND m.what = 0 AND m.reverses IS NULL"
    " AND NOT EXISTS (SELECT 1 FROM mark r WHERE r.reverses = m.number));"
    "PRAGMA user_version = 3;";

bool dwi_progress_tables(struct dw_rack *rack, int64_t version)
{
    return (version >= 2 || dwi_ledger_run(rack, schema)) && dwi_ledger_run(rack, schema_3);
}

/* ---- entering --------------------------------------------------------------------------------------------- */

static bool insert_mark(struct dw_rack *rack, int64_t work, const struct dw_mark *mark, int64_t reverses)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "INSERT INTO mark(at, work, what, target, step, edge, depth, note, reverses)"
                                                       " VALUES(datetime('now'), ?, ?, ?, ?, ?, ?, ?, nullif(?, 0))");
    if (statement == NULL)
        return false;
    (void)sqlite3_bind_int64(statement, 1, work);
    (void)sqlite3_bind_int(statement, 2, (int)mark->kind);
    dwi_ledger_bind_text(statement, 3, mark->target == NULL ? "" : mark->target);
    (void)sqlite3_bind_int64(statement, 4, mark->step);
    (void)sqlite3_bind_int(statement, 5, mark->edge);
    (void)sqlite3_bind_int64(statement, 6, mark->depth);
    dwi_ledger_bind_text(statement, 7, mark->note == NULL ? "" : mark->note);
    (void)sqlite3_bind_int64(statement, 8, reverses);
    return dwi_ledger_finish(statement);
}

static bool insert_work(struct dw_rack *rack, const struct dw_work_plan *plan, int64_t *number)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "INSERT INTO work(mark, jobs, follows, seen) VALUES(?, ?, ?, ?)");
    if (statement == NULL)
        return false;
    dwi_ledger_bind_text(statement, 1, plan->mark);
    dwi_ledger_bind_text(statement, 2, plan->jobs);
    dwi_ledger_bind_text(statement, 3, plan->follows);
    (void)sqlite3_bind_int64(statement, 4, plan->seen);
    if (!dwi_ledger_finish(statement))
        return false;
    *number = sqlite3_last_insert_rowid(rack->database);
    return true;
}

/* Runs a statement for each of many rows; `bind` puts a row's values behind its plan and number. */
typedef void bind_row(sqlite3_stmt *statement, const struct dw_work_plan *plan, size_t row);

static bool insert_rows(struct dw_rack *rack, const char *sql, int64_t work, const struct dw_work_plan *plan, size_t count, bind_row *bind)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, sql);
    bool sound = statement != NULL;
    for (size_t row = 0; row < count && sound; row++) {
        (void)sqlite3_bind_int64(statement, 1, work);
        (void)sqlite3_bind_int64(statement, 2, (int64_t)row);
        bind(statement, plan, row);
        sound = sqlite3_step(statement) == SQLITE_DONE && sqlite3_reset(statement) == SQLITE_OK;
    }
    (void)sqlite3_finalize(statement);
    return sound;
}

static void bind_number(sqlite3_stmt *statement, int at, size_t number)
{
    if (number == DW_NO_PANEL)
        (void)sqlite3_bind_null(statement, at);
    else
        (void)sqlite3_bind_int64(statement, at, (int64_t)number);
}

static void bind_piece(sqlite3_stmt *statement, const struct dw_work_plan *plan, size_t row)
{
    const struct dw_work_piece *piece = &plan->pieces[row];
    dwi_ledger_bind_text(statement, 3, piece->mark);
    dwi_ledger_bind_text(statement, 4, piece->name);
    dwi_ledger_bind_text(statement, 5, piece->material);
    (void)sqlite3_bind_int64(statement, 6, piece->thickness);
    (void)sqlite3_bind_int64(statement, 7, piece->length);
    (void)sqlite3_bind_int64(statement, 8, piece->width);
}

static void bind_panel(sqlite3_stmt *statement, const struct dw_work_plan *plan, size_t row)
{
    const struct dw_work_panel *panel = &plan->panels[row];
    dwi_ledger_bind_text(statement, 3, panel->name);
    dwi_ledger_bind_text(statement, 4, panel->sheet);
    dwi_ledger_bind_text(statement, 5, panel->material);
    dwi_ledger_bind_text(statement, 6, panel->source);
    (void)sqlite3_bind_int(statement, 7, (int)panel->use);
    bind_number(statement, 8, panel->piece);
    (void)sqlite3_bind_int64(statement, 9, panel->length);
    (void)sqlite3_bind_int64(statement, 10, panel->width);
    (void)sqlite3_bind_int(statement, 11, panel->grain_across ? 1 : 0);
    (void)sqlite3_bind_int64(statement, 12, panel->value);
    for (int i = 0; i < 4; i++)
        (void)sqlite3_bind_int64(statement, 13 + i, panel->trim[i]);
}

static void bind_pass(sqlite3_stmt *statement, const struct dw_work_plan *plan, size_t row)
{
    const struct dw_work_pass *pass = &plan->passes[row];
    (void)sqlite3_bind_int64(statement, 3, pass->step);
    bind_number(statement, 4, pass->panel);
    bind_number(statement, 5, pass->off);
    bind_number(statement, 6, pass->rest);
}

static bool insert_changes(struct dw_rack *rack, const struct dw_work_plan *plan, int64_t work)
{
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct dw_mark changed = {.kind = DW_MARK_CHANGED, .target = plan->changes[i].mark, .note = plan->changes[i].words};
        if (!insert_mark(rack, work, &changed, 0))
            return false;
    }
    return true;
}

static void bind_goods(sqlite3_stmt *statement, const struct dw_work_plan *plan, size_t row)
{
    dwi_ledger_bind_text(statement, 3, plan->goods[row].id);
    dwi_ledger_bind_text(statement, 4, plan->goods[row].what);
    (void)sqlite3_bind_int64(statement, 5, plan->goods[row].wanted);
    (void)sqlite3_bind_int64(statement, 6, plan->goods[row].bought);
}

static bool insert_plan(struct dw_rack *rack, const struct dw_work_plan *plan, int64_t *number)
{
    return insert_work(rack, plan, number) &&
           insert_rows(rack, "INSERT INTO work_piece VALUES(?, ?, ?, ?, ?, ?, ?, ?)", *number, plan, plan->piece_count, bind_piece) &&
           insert_rows(rack, "INSERT INTO work_panel VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", *number, plan, plan->panel_count, bind_panel) &&
           insert_rows(rack, "INSERT INTO work_pass VALUES(?, ?, ?, ?, ?, ?)", *number, plan, plan->pass_count, bind_pass) &&
           insert_rows(rack, "INSERT INTO work_goods VALUES(?, ?, ?, ?, ?, ?)", *number, plan, plan->goods_count, bind_goods) &&
           insert_changes(rack, plan, *number);
}

/* A number about a mark; 0 when there is none. */
static bool look_up(struct dw_rack *rack, const char *sql, const char *mark, int64_t *number)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, sql);
    if (statement != NULL)
        dwi_ledger_bind_text(statement, 1, mark);
    return dwi_ledger_finish_integer(statement, 0, number);
}

/* The plan that is to be replaced must be the one worked from, as it was known. */
static enum dw_status check_followed(const struct dw_work_plan *plan, const struct dwi_chain *followed, struct dw_faults *faults)
{
    if (followed->replaced_by[0] != '\0')
        dw_error(faults, DW_IMPOSSIBLE, "plan-replaced", plan->follows,
                 "it was replaced by plan %s already, so that %s has nothing to follow\nplan again what is left of %s", followed->replaced_by, plan->mark,
                 followed->replaced_by);
    else if (followed->last > plan->seen)
        dw_error(faults, DW_IMPOSSIBLE, "worked-since", plan->follows,
                 "more was marked on it since plan %s was made, which knows nothing of that\nplan again what is left", plan->mark);
    else
        return DW_DONE;
    return DW_IMPOSSIBLE;
}

static enum dw_status enter_now(struct dw_rack *rack, const struct dw_work_plan *plan, struct dw_arena *arena, struct dw_faults *faults)
{
    int64_t standing = 0;
    int64_t number = 0;
    struct dwi_chain followed;
    if (!look_up(rack, "SELECT number FROM working WHERE mark = ?", plan->mark, &standing) ||
        !look_up(rack, "SELECT number FROM work WHERE mark = ?", plan->mark, &number))
        return dwi_ledger_refuse(rack, faults);
    if (standing != 0)
        return DW_DONE;
    enum dw_status status = DW_DONE;
    if (plan->follows[0] != '\0')
        status = dwi_chain_read(rack, plan->follows, arena, faults, &followed);
    if (status == DW_DONE && plan->follows[0] != '\0')
        status = check_followed(plan, &followed, faults);
    if (status != DW_DONE)
        return status;
    const struct dw_mark entered = {.kind = DW_MARK_ENTERED};
    if ((number == 0 && !insert_plan(rack, plan, &number)) || !insert_mark(rack, number, &entered, 0))
        return dwi_ledger_refuse(rack, faults);
    return DW_DONE;
}

/* An arena for the length of one call; NULL with a fault. */
static struct dw_arena *scratch(struct dw_faults *faults)
{
    struct dw_arena *arena = dw_arena_new();
    if (arena == NULL)
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
    return arena;
}

enum dw_status dw_progress_enter(struct dw_rack *rack, const struct dw_work_plan *plan, struct dw_faults *faults)
{
    struct dw_arena *arena = scratch(faults);
    enum dw_status status = arena == NULL ? DW_SURROUNDINGS : dwi_ledger_begin(rack, faults);
    if (status == DW_DONE)
        status = dwi_ledger_end(rack, enter_now(rack, plan, arena, faults), faults);
    dw_arena_free(arena);
    return status;
}

/* ---- marking ---------------------------------------------------------------------------------------------- */

struct judging {
    const struct dwi_chain *chain;
    const struct dw_mark *mark;
    struct dw_arena *arena;
    const char *code, *wrong; /* why it cannot be; NULL */
};

static void judge(struct judging *judging, const char *code, const char *wrong)
{
    judging->code = code;
    judging->wrong = wrong;
}

static bool is_sheet(const struct dwi_bench *bench, const char *name)
{
    for (size_t i = 0; i < bench->plan->panel_count; i++)
        if (bench->maker[i] == DW_NO_PANEL && strcmp(bench->plan->panels[i].sheet, name) == 0)
            return true;
    return false;
}

static bool is_cut_before(const struct judging *judging)
{
    const struct dw_progress *progress = dwi_progress_of(judging->chain, judging->arena);
    for (size_t i = 0; i < progress->cut_count; i++)
        if (strcmp(progress->cut[i].piece.mark, judging->mark->target) == 0)
            return true;
    return false;
}

static void judge_panel(struct judging *judging, const struct dwi_bench *bench, size_t panel)
{
    const enum dw_mark_kind kind = judging->mark->kind;
    if (dwi_bench_is_lost(bench, panel))
        judge(judging, "spoiled-already", "it is marked as spoiled, or what it was to come from is\nplan again what is left: drawerwright replan");
    else if (kind == DW_MARK_CUT && bench->maker[panel] == DW_NO_PANEL && bench->plan->panels[panel].use != DW_PANEL_PIECE)
        judge(judging, "whole-sheet", "it is a whole sheet\nsay to which step of the cut order it is done");
    else if (kind == DW_MARK_CUT && (dwi_bench_is_cut_up(bench, panel) || dwi_bench_has(bench, panel)))
        judge(judging, "cut-already", "it is cut\nnothing is left to mark");
    else if (kind != DW_MARK_CUT && dwi_bench_is_cut_up(bench, panel))
        judge(judging, "cut-up", "it is cut up already\nname what came of it");
    else if (kind == DW_MARK_DAMAGED && bench->plan->panels[panel].use == DW_PANEL_PIECE)
        judge(judging, "no-edge", "it is a piece cut to size\nmark it as spoiled where it cannot be used");
    else if (kind == DW_MARK_DAMAGED && judging->mark->depth >= (judging->mark->edge < 2 ? bench->plan->panels[panel].length : bench->plan->panels[panel].width))
        judge(judging, "too-deep", "the damage is as deep as the panel\nmark it as spoiled");
}

static void judge_sheet(struct judging *judging, const struct dwi_bench *bench)
{
    int64_t last = 0;
    for (size_t i = 0; i < bench->plan->pass_count; i++)
        if (strcmp(bench->plan->panels[bench->plan->passes[i].panel].sheet, judging->mark->target) == 0)
            last = bench->plan->passes[i].step;
    if (!is_sheet(bench, judging->mark->target))
        judge(judging, "no-sheet", "the plan has no sheet of this name\nthe sheets stand in the cut order");
    else if (judging->mark->step < 1)
        judge(judging, "no-step", "steps count from 1\nthe number of a step in the cut order");
    else if (judging->mark->step > last)
        judge(judging, "no-step", dw_arena_format(judging->arena, "its last step is %lld\nthe number of a step in the cut order", (long long)last));
}

/* A piece of an earlier plan may still be spoiled (or be spoken of). */
static void judge_body(void *context)
{
    struct judging *judging = context;
    const struct dwi_bench bench = dwi_bench_of(&judging->chain->links[judging->chain->count - 1], judging->arena);
    const size_t panel = dwi_bench_find(&bench, judging->mark->target);
    if (judging->chain->replaced_by[0] != '\0')
        judge(judging, "plan-replaced", dw_arena_format(judging->arena, "it was replaced by plan %s\nwork from that one; its mark stands on every page",
                                                       judging->chain->replaced_by));
    else if (judging->mark->kind == DW_MARK_NOTE)
        return;
    else if (judging->mark->kind == DW_MARK_ENTERED || judging->mark->kind == DW_MARK_CHANGED)
        judge(judging, "no-mark", "that is marked when a plan is entered\nenter the plan");
    else if (judging->mark->kind == DW_MARK_SHEET)
        judge_sheet(judging, &bench);
    else if (judging->mark->kind == DW_MARK_MEASURED && judging->mark->depth <= 0)
        judge(judging, "no-thickness", "that is no thickness\nwhat the caliper says");
    else if (judging->mark->kind == DW_MARK_MEASURED && panel != DW_NO_PANEL)
        return;
    else if (panel != DW_NO_PANEL)
        judge_panel(judging, &bench, panel);
    else if (!is_cut_before(judging))
        judge(judging, "no-piece", "the plan has no piece, panel or sheet of this name\nmarks stand on the labels and in the cut order");
    else if (judging->mark->kind != DW_MARK_SPOILED)
        judge(judging, "cut-already", "it was cut from an earlier plan\nnothing is left to mark");
}

static enum dw_status judge_mark(const struct dwi_chain *chain, const struct dw_mark *mark, struct dw_arena *arena, struct dw_faults *faults)
{
    struct judging judging = {.chain = chain, .mark = mark, .arena = arena};
    if (!dw_arena_guard(arena, judge_body, &judging)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    if (judging.wrong == NULL)
        return DW_DONE;
    const bool of_plan = strcmp(judging.code, "plan-replaced") == 0;
    dw_error(faults, DW_IMPOSSIBLE, judging.code, of_plan ? chain->links[chain->count - 1].plan.mark : mark->target, "%s", judging.wrong);
    return DW_IMPOSSIBLE;
}

static enum dw_status mark_now(struct dw_rack *rack, const char *plan, const struct dw_mark *mark, struct dw_arena *arena, struct dw_faults *faults)
{
    struct dwi_chain chain;
    enum dw_status status = dwi_chain_read(rack, plan, arena, faults, &chain);
    if (status == DW_DONE)
        status = judge_mark(&chain, mark, arena, faults);
    if (status == DW_DONE && !insert_mark(rack, chain.links[chain.count - 1].number, mark, 0))
        status = dwi_ledger_refuse(rack, faults);
    return status;
}

enum dw_status dw_progress_mark(struct dw_rack *rack, const char *plan, const struct dw_mark *mark, struct dw_faults *faults)
{
    struct dw_arena *arena = scratch(faults);
    enum dw_status status = arena == NULL ? DW_SURROUNDINGS : dwi_ledger_begin(rack, faults);
    if (status == DW_DONE)
        status = dwi_ledger_end(rack, mark_now(rack, plan, mark, arena, faults), faults);
    dw_arena_free(arena);
    return status;
}

/* ---- taking back ------------------------------------------------------------------------------------------ */

static enum dw_status undo_now(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_mark *undone)
{
    struct dwi_chain chain;
    const struct dw_mark none = {.kind = DW_MARK_NOTE};
    const enum dw_status status = dwi_chain_read(rack, plan, arena, faults, &chain);
    if (status != DW_DONE)
        return status;
    if (chain.replaced_by[0] != '\0') {
        dw_error(faults, DW_IMPOSSIBLE, "plan-replaced", plan, "it was replaced by plan %s\ntake back that one first", chain.replaced_by);
        return DW_IMPOSSIBLE;
    }
    const struct dwi_link *link = &chain.links[chain.count - 1];
    size_t at = link->mark_count;
    while (at > 0 && (link->marks[at - 1].taken_back || link->marks[at - 1].mark.kind == DW_MARK_CHANGED))
        at--;
    /* A plan that is entered has one mark at least that stands: that it was entered. */
    if (at == 0 || !insert_mark(rack, link->number, &none, link->marks[at - 1].number))
        return dwi_ledger_refuse(rack, faults);
    if (undone != NULL)
        *undone = link->marks[at - 1].mark;
    return DW_DONE;
}

enum dw_status dw_progress_undo(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults, struct dw_mark *undone)
{
    const enum dw_status status = dwi_ledger_begin(rack, faults);
    return status == DW_DONE ? dwi_ledger_end(rack, undo_now(rack, plan, arena, faults, undone), faults) : status;
}

static const struct dwi_link *last_link(const struct dwi_chain *chain)
{
    return &chain->links[chain->count - 1];
}

struct taking_back {
    const struct dwi_link *link;
    size_t at;
    struct dw_arena *arena;
    bool possible;
};

static void take_back_body(void *context)
{
    struct taking_back *taking = context;
    taking->possible = dwi_bench_can_do_without(taking->link, taking->at, taking->arena);
}

static enum dw_status take_back_now(struct dw_rack *rack, const char *plan, int64_t number, struct dw_arena *arena, struct dw_faults *faults)
{
    struct dwi_chain chain;
    const struct dw_mark none = {.kind = DW_MARK_NOTE};
    const enum dw_status status = dwi_chain_read(rack, plan, arena, faults, &chain);
    if (status != DW_DONE)
        return status;
    struct taking_back taking = {.link = last_link(&chain), .arena = arena};
    const struct dwi_link *link = taking.link;
    while (taking.at < link->mark_count && link->marks[taking.at].number != number)
        taking.at++;
    const struct dw_marked *found = taking.at < link->mark_count ? &link->marks[taking.at] : NULL;
    if (chain.replaced_by[0] != '\0')
        dw_error(faults, DW_IMPOSSIBLE, "plan-replaced", plan, "it was replaced by plan %s\ntake back that one first", chain.replaced_by);
    else if (found == NULL || found->taken_back || found->mark.kind == DW_MARK_ENTERED || found->mark.kind == DW_MARK_CHANGED)
        dw_error(faults, DW_IMPOSSIBLE, "no-mark", plan, "its history has no line %lld that can be taken back\nlook at the history again", (long long)number);
    else if (!dw_arena_guard(arena, take_back_body, &taking))
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
    else if (!taking.possible)
        dw_error(faults, DW_IMPOSSIBLE, "built-on", found->mark.target, "marks made after this one would mean something else without it\ntake those back first");
    else
        return insert_mark(rack, link->number, &none, number) ? DW_DONE : dwi_ledger_refuse(rack, faults);
    return faults->status;
}

enum dw_status dw_progress_take_back(struct dw_rack *rack, const char *plan, int64_t number, struct dw_faults *faults)
{
    struct dw_arena *arena = scratch(faults);
    enum dw_status status = arena == NULL ? DW_SURROUNDINGS : dwi_ledger_begin(rack, faults);
    if (status == DW_DONE)
        status = dwi_ledger_end(rack, take_back_now(rack, plan, number, arena, faults), faults);
    dw_arena_free(arena);
    return status;
}

/* ---- reading ---------------------------------------------------------------------------------------------- */

struct reading {
    struct dwi_chain chain;
    struct dw_arena *arena;
    struct dw_progress *progress;
};

static void read_body(void *context)
{
    struct reading *reading = context;
    reading->progress = dwi_progress_of(&reading->chain, reading->arena);
}

/* One transaction for reading too: what several statements see is of one moment. */
enum dw_status dw_progress_read(struct dw_rack *rack, const char *plan, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_progress **progress)
{
    struct reading reading = {.arena = arena};
    *progress = NULL;
    if (!dwi_ledger_run(rack, "BEGIN"))
        return dwi_ledger_refuse(rack, faults);
    const enum dw_status status = dwi_ledger_end(rack, dwi_chain_read(rack, plan, arena, faults, &reading.chain), faults);
    if (status != DW_DONE)
        return status;
    if (!dw_arena_guard(arena, read_body, &reading)) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out");
        return DW_SURROUNDINGS;
    }
    *progress = reading.progress;
    return DW_DONE;
}
