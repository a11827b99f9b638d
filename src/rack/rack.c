/* rack.c - the ledger of offcuts in SQLite.
 *
 * Three tables that are only ever added to. `offcut` says what a piece is. `movement` moves it: +1 into the rack, -1 out of it; a piece is there
 * when its movements add up to 1. `posting` says which plans were entered, and which entry reversed which.
 * Invariant: the sum of an offcut's movements is 0 or 1. Every change runs in one BEGIN IMMEDIATE ... COMMIT, checked before it is committed.
 */
#include <drawerwright/rack.h>

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>

#include "ledger.h"

enum { VERSION = 3, PATIENCE_MS = 5000 };

static const char schema[] =
    "CREATE TABLE offcut(number INTEGER PRIMARY KEY, material TEXT NOT NULL, length INTEGER NOT NULL CHECK(length > 0),"
    " width INTEGER NOT NULL CHECK(width > 0), grain_across INTEGER NOT NULL CHECK(grain_across IN (0, 1)),"
    " value INTEGER NOT NULL CHECK(value >= 0), origin TEXT NOT NULL) STRICT;"
    "CREATE TABLE posting(number INTEGER PRIMARY KEY, plan TEXT NOT NULL, jobs TEXT NOT NULL, at TEXT NOT NULL,"
    " reverses INTEGER UNIQUE REFERENCES posting(number)) STRICT;"
    "CREATE TABLE movement(number INTEGER PRIMARY KEY, at TEXT NOT NULL, what TEXT NOT NULL, change INTEGER NOT NULL CHECK(change IN (-1, 1)),"
    " offcut INTEGER NOT NULL REFERENCES offcut(number), posting INTEGER REFERENCES posting(number), note TEXT NOT NULL) STRICT;"
    "CREATE INDEX movement_offcut ON movement(offcut);"
    "CREATE TRIGGER offcut_stays BEFORE UPDATE ON offcut BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE TRIGGER offcut_kept BEFORE DELETE ON offcut BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE TRIGGER movement_stays BEFORE UPDATE ON movement BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE TRIGGER movement_kept BEFORE DELETE ON movement BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE TRIGGER posting_stays BEFORE UPDATE ON posting BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE TRIGGER posting_kept BEFORE DELETE ON posting BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;"
    "CREATE VIEW present AS SELECT o.* FROM offcut o WHERE (SELECT coalesce(sum(change), 0) FROM movement m WHERE m.offcut = o.number) = 1;"
    "PRAGMA user_version = 1;"; /* versions 2 and 3 add the tables of progress.c */

/* ---- opening ---------------------------------------------------------------------------------------------- */

/* The version found; 0 for a ledger that is yet to be made. */
static bool read_version(struct dw_rack *rack, int64_t *version)
{
    return dwi_ledger_finish_integer(dwi_ledger_prepare(rack, "PRAGMA user_version"), 0, version);
}

static enum dw_status refuse_version(struct dw_rack *rack, int64_t version, struct dw_faults *faults)
{
    dw_error(faults, DW_SURROUNDINGS, "rack-version", sqlite3_db_filename(rack->database, "main"),
             "the rack's ledger is of version %" PRId64 ", this program knows %d\nuse the newer program that made it", version, VERSION);
    return DW_SURROUNDINGS;
}

/* Makes the tables that are missing, unless another process did so while we waited. */
static enum dw_status make_tables(struct dw_rack *rack, struct dw_faults *faults)
{
    int64_t version = 0;
    const enum dw_status begun = dwi_ledger_begin(rack, faults);
    if (begun != DW_DONE)
        return begun;
    if (!read_version(rack, &version) || (version == 0 && !dwi_ledger_run(rack, schema)) ||
        (version < VERSION && !dwi_progress_tables(rack, version)) || !dwi_ledger_run(rack, "COMMIT")) {
        const enum dw_status status = dwi_ledger_refuse(rack, faults);
        (void)dwi_ledger_run(rack, "ROLLBACK");
        return status;
    }
    return DW_DONE;
}

static enum dw_status prepare_ledger(struct dw_rack *rack, struct dw_faults *faults)
{
    int64_t version = 0;
    (void)sqlite3_busy_timeout(rack->database, PATIENCE_MS);
    if (!dwi_ledger_run(rack, "PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL") || !read_version(rack, &version))
        return dwi_ledger_refuse(rack, faults);
    if (version > VERSION)
        return refuse_version(rack, version, faults);
    return version < VERSION ? make_tables(rack, faults) : DW_DONE;
}

enum dw_status dw_rack_open(const char *path, struct dw_faults *faults, struct dw_rack **rack)
{
    *rack = NULL;
    struct dw_rack *opened = calloc(1, sizeof *opened);
    if (opened == NULL)
        return DW_SURROUNDINGS;
    enum dw_status status = DW_DONE;
    if (sqlite3_open_v2(path, &opened->database, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) != SQLITE_OK) {
        dw_error(faults, DW_SURROUNDINGS, "rack", path, "the rack's ledger cannot be opened: %s\nname a folder that exists and may be written",
                 opened->database == NULL ? "memory ran out" : sqlite3_errmsg(opened->database));
        status = DW_SURROUNDINGS;
    } else {
        status = prepare_ledger(opened, faults);
    }
    if (status != DW_DONE) {
        dw_rack_close(opened);
        return status;
    }
    *rack = opened;
    return DW_DONE;
}

void dw_rack_close(struct dw_rack *rack)
{
    if (rack == NULL)
        return;
    (void)sqlite3_close(rack->database);
    free(rack);
}

/* ---- reading ---------------------------------------------------------------------------------------------- */

struct listing {
    sqlite3_stmt *statement;
    struct dw_arena *arena;
    struct dw_offcut *offcuts;
    struct dw_movement *movements;
    size_t count, capacity;
    int last_step;
};

static void list_offcuts(void *context)
{
    struct listing *listing = context;
    struct dw_arena *arena = listing->arena;
    sqlite3_stmt *row = listing->statement;
    while ((listing->last_step = sqlite3_step(row)) == SQLITE_ROW) {
        listing->offcuts = dw_arena_grow(arena, listing->offcuts, listing->count, &listing->capacity, sizeof *listing->offcuts);
        listing->offcuts[listing->count++] = (struct dw_offcut){
            .id = dw_arena_format(arena, "R%lld", (long long)sqlite3_column_int64(row, 0)),
            .material = dwi_ledger_column_text(arena, row, 1),
            .length = sqlite3_column_int64(row, 2),
            .width = sqlite3_column_int64(row, 3),
            .grain_across = sqlite3_column_int(row, 4) != 0,
            .value = sqlite3_column_int64(row, 5),
            .origin = dwi_ledger_column_text(arena, row, 6),
        };
    }
}

static void list_movements(void *context)
{
    struct listing *listing = context;
    struct dw_arena *arena = listing->arena;
    sqlite3_stmt *row = listing->statement;
    while ((listing->last_step = sqlite3_step(row)) == SQLITE_ROW) {
        listing->movements = dw_arena_grow(arena, listing->movements, listing->count, &listing->capacity, sizeof *listing->movements);
        listing->movements[listing->count++] = (struct dw_movement){
            .number = sqlite3_column_int64(row, 0),
            .when = dwi_ledger_column_text(arena, row, 1),
            .what = dwi_ledger_column_text(arena, row, 2),
            .offcut = dw_arena_format(arena, "R%lld", (long long)sqlite3_column_int64(row, 3)),
            .plan = dwi_ledger_column_text(arena, row, 4),
            .note = dwi_ledger_column_text(arena, row, 5),
        };
    }
}

/* Runs a listing under a guard and frees its statement. */
static enum dw_status list(struct dw_rack *rack, struct listing *listing, void (*body)(void *), struct dw_faults *faults)
{
    if (listing->statement == NULL)
        return dwi_ledger_refuse(rack, faults);
    const bool whole = dw_arena_guard(listing->arena, body, listing);
    const enum dw_status status = !whole ? DW_SURROUNDINGS : listing->last_step == SQLITE_DONE ? DW_DONE : dwi_ledger_refuse(rack, faults);
    (void)sqlite3_finalize(listing->statement);
    return status;
}

enum dw_status dw_rack_list(struct dw_rack *rack, const char *material, struct dw_arena *arena, struct dw_faults *faults,
                            struct dw_offcuts *offcuts)
{
    struct listing listing = {.arena = arena};
    listing.statement = dwi_ledger_prepare(rack, "SELECT number, material, length, width, grain_across, value, origin FROM present"
                                      " WHERE ?1 IS NULL OR material = ?1 ORDER BY number");
    if (listing.statement != NULL && material != NULL)
        dwi_ledger_bind_text(listing.statement, 1, material);
    const enum dw_status status = list(rack, &listing, list_offcuts, faults);
    *offcuts = (struct dw_offcuts){.at = listing.offcuts, .count = status == DW_DONE ? listing.count : 0};
    return status;
}

enum dw_status dw_rack_history(struct dw_rack *rack, struct dw_arena *arena, struct dw_faults *faults, struct dw_movements *movements)
{
    struct listing listing = {.arena = arena};
    listing.statement = dwi_ledger_prepare(rack, "SELECT m.number, m.at, m.what, m.offcut, coalesce(p.plan, ''), m.note FROM movement m"
                                      " LEFT JOIN posting p ON p.number = m.posting ORDER BY m.number");
    const enum dw_status status = list(rack, &listing, list_movements, faults);
    *movements = (struct dw_movements){.at = listing.movements, .count = status == DW_DONE ? listing.count : 0};
    return status;
}

/* ---- changing --------------------------------------------------------------------------------------------- */

/* The number in an id such as "R12"; 0 when it is none. */
static int64_t number_of(const char *id)
{
    char *end = NULL;
    if (id[0] != 'R' && id[0] != 'r')
        return 0;
    const long long number = strtoll(id + 1, &end, 10);
    return end != id + 1 && *end == '\0' && number > 0 ? number : 0;
}

static bool insert_offcut(struct dw_rack *rack, const struct dw_offcut *offcut, int64_t *number)
{
    sqlite3_stmt *statement =
        dwi_ledger_prepare(rack, "INSERT INTO offcut(material, length, width, grain_across, value, origin) VALUES(?, ?, ?, ?, ?, ?)");
    if (statement == NULL)
        return false;
    dwi_ledger_bind_text(statement, 1, offcut->material);
    (void)sqlite3_bind_int64(statement, 2, offcut->length);
    (void)sqlite3_bind_int64(statement, 3, offcut->width);
    (void)sqlite3_bind_int(statement, 4, offcut->grain_across ? 1 : 0);
    (void)sqlite3_bind_int64(statement, 5, offcut->value);
    dwi_ledger_bind_text(statement, 6, offcut->origin == NULL ? "" : offcut->origin);
    if (!dwi_ledger_finish(statement))
        return false;
    *number = sqlite3_last_insert_rowid(rack->database);
    return true;
}

static bool move(struct dw_rack *rack, int64_t offcut, int change, const char *what, int64_t posting, const char *note)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(
        rack, "INSERT INTO movement(at, what, change, offcut, posting, note) VALUES(datetime('now'), ?, ?, ?, nullif(?, 0), ?)");
    if (statement == NULL)
        return false;
    dwi_ledger_bind_text(statement, 1, what);
    (void)sqlite3_bind_int(statement, 2, change);
    (void)sqlite3_bind_int64(statement, 3, offcut);
    (void)sqlite3_bind_int64(statement, 4, posting);
    dwi_ledger_bind_text(statement, 5, note);
    return dwi_ledger_finish(statement);
}

static bool is_present(struct dw_rack *rack, int64_t number, bool *present)
{
    int64_t found = 0;
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "SELECT count(*) FROM present WHERE number = ?");
    if (statement != NULL)
        (void)sqlite3_bind_int64(statement, 1, number);
    const bool answered = dwi_ledger_finish_integer(statement, 0, &found);
    *present = found == 1;
    return answered;
}

enum dw_status dw_rack_add(struct dw_rack *rack, const struct dw_offcut *offcut, struct dw_faults *faults, int64_t *number)
{
    enum dw_status status = dwi_ledger_begin(rack, faults);
    if (status != DW_DONE)
        return status;
    if (!insert_offcut(rack, offcut, number) || !move(rack, *number, 1, "added", 0, ""))
        status = dwi_ledger_refuse(rack, faults);
    return dwi_ledger_end(rack, status, faults);
}

/* One offcut out of the rack, refused when it is not there. */
static enum dw_status move_out(struct dw_rack *rack, const char *id, const char *what, int64_t posting, const char *note,
                               struct dw_faults *faults)
{
    bool present = false;
    const int64_t number = number_of(id);
    if (!is_present(rack, number, &present))
        return dwi_ledger_refuse(rack, faults);
    if (!present) {
        dw_error(faults, DW_IMPOSSIBLE, "not-in-rack", id, "this offcut is not in the rack\nsee what is there: drawerwright rack list");
        return DW_IMPOSSIBLE;
    }
    return move(rack, number, -1, what, posting, note) ? DW_DONE : dwi_ledger_refuse(rack, faults);
}

enum dw_status dw_rack_take(struct dw_rack *rack, const char *id, const char *note, struct dw_faults *faults)
{
    const enum dw_status status = dwi_ledger_begin(rack, faults);
    return status == DW_DONE ? dwi_ledger_end(rack, move_out(rack, id, "taken", 0, note, faults), faults) : status;
}

/* The posting of a plan that stands (is entered and not reversed); 0 when there is none. */
static bool standing_posting(struct dw_rack *rack, const char *plan, int64_t *number)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "SELECT p.number FROM posting p WHERE p.plan = ? AND p.reverses IS NULL"
                                            " AND NOT EXISTS (SELECT 1 FROM posting r WHERE r.reverses = p.number)");
    if (statement != NULL)
        dwi_ledger_bind_text(statement, 1, plan);
    return dwi_ledger_finish_integer(statement, 0, number);
}

static bool insert_posting(struct dw_rack *rack, const char *plan, const char *jobs, int64_t reverses, int64_t *number)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "INSERT INTO posting(plan, jobs, at, reverses) VALUES(?, ?, datetime('now'), nullif(?, 0))");
    if (statement == NULL)
        return false;
    dwi_ledger_bind_text(statement, 1, plan);
    dwi_ledger_bind_text(statement, 2, jobs);
    (void)sqlite3_bind_int64(statement, 3, reverses);
    if (!dwi_ledger_finish(statement))
        return false;
    *number = sqlite3_last_insert_rowid(rack->database);
    return true;
}

static enum dw_status enter_kept(struct dw_rack *rack, const struct dw_posting *posting, int64_t number, struct dw_faults *faults)
{
    for (size_t i = 0; i < posting->kept_count; i++) {
        int64_t offcut = 0;
        if (!insert_offcut(rack, &posting->kept[i], &offcut) || !move(rack, offcut, 1, "returned", number, posting->kept[i].origin))
            return dwi_ledger_refuse(rack, faults);
    }
    return DW_DONE;
}

static enum dw_status enter(struct dw_rack *rack, const struct dw_posting *posting, struct dw_faults *faults)
{
    int64_t number = 0;
    if (!standing_posting(rack, posting->plan, &number))
        return dwi_ledger_refuse(rack, faults);
    if (number != 0) {
        dw_error(faults, DW_IMPOSSIBLE, "posted-already", posting->plan,
                 "this plan is entered in the rack already\nundo that first if it was a mistake: drawerwright rack undo %s", posting->plan);
        return DW_IMPOSSIBLE;
    }
    if (!insert_posting(rack, posting->plan, posting->jobs, 0, &number))
        return dwi_ledger_refuse(rack, faults);
    enum dw_status status = DW_DONE;
    for (size_t i = 0; i < posting->used_count && status == DW_DONE; i++)
        status = move_out(rack, posting->used[i], "used", number, posting->jobs, faults);
    return status == DW_DONE ? enter_kept(rack, posting, number, faults) : status;
}

enum dw_status dw_rack_post(struct dw_rack *rack, const struct dw_posting *posting, struct dw_faults *faults)
{
    const enum dw_status status = dwi_ledger_begin(rack, faults);
    return status == DW_DONE ? dwi_ledger_end(rack, enter(rack, posting, faults), faults) : status;
}

/* True when every offcut that a posting returned is still there. */
static bool returned_are_present(struct dw_rack *rack, int64_t posting, bool *all)
{
    int64_t gone = 0;
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "SELECT count(*) FROM movement m WHERE m.posting = ? AND m.change = 1"
                                            " AND m.offcut NOT IN (SELECT number FROM present)");
    if (statement != NULL)
        (void)sqlite3_bind_int64(statement, 1, posting);
    const bool answered = dwi_ledger_finish_integer(statement, 0, &gone);
    *all = gone == 0;
    return answered;
}

static bool insert_reversals(struct dw_rack *rack, int64_t posting, int64_t reversal)
{
    sqlite3_stmt *statement = dwi_ledger_prepare(rack, "INSERT INTO movement(at, what, change, offcut, posting, note)"
                                            " SELECT datetime('now'), 'undone', -change, offcut, ?2, '' FROM movement WHERE posting = ?1 ORDER BY number");
    if (statement == NULL)
        return false;
    (void)sqlite3_bind_int64(statement, 1, posting);
    (void)sqlite3_bind_int64(statement, 2, reversal);
    return dwi_ledger_finish(statement);
}

static enum dw_status reverse(struct dw_rack *rack, const char *plan, struct dw_faults *faults)
{
    int64_t posting = 0;
    int64_t reversal = 0;
    bool all = false;
    if (!standing_posting(rack, plan, &posting))
        return dwi_ledger_refuse(rack, faults);
    if (posting == 0) {
        dw_error(faults, DW_IMPOSSIBLE, "not-posted", plan, "no plan with this mark is entered in the rack\nsee: drawerwright rack history");
        return DW_IMPOSSIBLE;
    }
    if (!returned_are_present(rack, posting, &all))
        return dwi_ledger_refuse(rack, faults);
    if (!all) {
        dw_error(faults, DW_IMPOSSIBLE, "offcut-used", plan, "an offcut that this plan returned has left the rack since\nundo what used it first");
        return DW_IMPOSSIBLE;
    }
    if (!insert_posting(rack, plan, "", posting, &reversal) || !insert_reversals(rack, posting, reversal))
        return dwi_ledger_refuse(rack, faults);
    return DW_DONE;
}

enum dw_status dw_rack_undo(struct dw_rack *rack, const char *plan, struct dw_faults *faults)
{
    const enum dw_status status = dwi_ledger_begin(rack, faults);
    return status == DW_DONE ? dwi_ledger_end(rack, reverse(rack, plan, faults), faults) : status;
}
