/* entered.c - which plans are entered in the ledger. */
#include <drawerwright/progress.h>

#include <drawerwright/memory.h>

#include "ledger.h"

struct listing {
    struct dw_rack *rack;
    struct dw_arena *arena;
    sqlite3_stmt *open;
    struct dw_entered_plan *plans;
    size_t count;
    bool failed;
};

static const char *text(const struct listing *listing, int column)
{
    return dwi_ledger_column_text(listing->arena, listing->open, column);
}

static void body(void *context)
{
    struct listing *listing = context;
    size_t capacity = 0;
    int step = SQLITE_DONE;
    while ((step = sqlite3_step(listing->open)) == SQLITE_ROW) {
        listing->plans = dw_arena_grow(listing->arena, listing->plans, listing->count, &capacity, sizeof *listing->plans);
        listing->plans[listing->count++] = (struct dw_entered_plan){.mark = text(listing, 0), .jobs = text(listing, 1), .follows = text(listing, 2),
                                                                    .when = text(listing, 3), .replaced_by = text(listing, 4)};
    }
    listing->failed = step != SQLITE_DONE;
}

enum dw_status dw_progress_plans(struct dw_rack *rack, struct dw_arena *arena, struct dw_faults *faults, struct dw_entered_plans *plans)
{
    struct listing listing = {.rack = rack, .arena = arena};
    *plans = (struct dw_entered_plans){.count = 0};
    listing.open = dwi_ledger_prepare(rack, "SELECT w.mark, w.jobs, w.follows,"
                                            " (SELECT max(m.at) FROM mark m WHERE m.work = w.number AND m.what = 0 AND m.reverses IS NULL),"
                                            " (SELECT f.mark FROM working f WHERE f.follows = w.mark ORDER BY f.number LIMIT 1)"
                                            " FROM working w ORDER BY w.number");
    if (listing.open == NULL)
        return dwi_ledger_refuse(rack, faults);
    const bool whole = dw_arena_guard(arena, body, &listing);
    const bool refused = whole && listing.failed;
    const enum dw_status status = refused ? dwi_ledger_refuse(rack, faults) : DW_DONE;
    (void)sqlite3_finalize(listing.open);
    if (!whole) {
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the ledger was read");
        return DW_SURROUNDINGS;
    }
    *plans = (struct dw_entered_plans){.at = listing.plans, .count = listing.count};
    return status;
}
