/* rack.h - the ledger of offcuts: what the shop owns, where it came from and where it went.
 *
 * The ledger is an SQLite file in the shop's folder. Its history is append-only: nothing is changed or deleted, an entry is undone by a
 * reversing one. Every change is one transaction, so that a program killed at any moment leaves the ledger whole.
 */
#ifndef DRAWERWRIGHT_RACK_H
#define DRAWERWRIGHT_RACK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/length.h>
#include <drawerwright/money.h>

struct dw_arena;
struct dw_rack; /* opaque; one thread at a time */

/* One piece in the rack. */
struct dw_offcut {
    const char *id;       /* "R12": number in the ledger */
    const char *material; /* id */
    dw_length length, width;
    bool grain_across;    /* the grain runs along the width */
    dw_money value;       /* what it is worth to the shop */
    const char *origin;   /* "plan K4T9 sheet A2", or as the maker noted it */
};

struct dw_offcuts {
    const struct dw_offcut *at; /* in the order of their numbers */
    size_t count;
};

/* What a plan does to the rack, entered once. */
struct dw_posting {
    const char *plan;              /* the plan's mark */
    const char *jobs;              /* names of its jobs, for the history */
    const char *const *used;       /* ids of the offcuts it cuts up */
    size_t used_count;
    const struct dw_offcut *kept;  /* what it gives back; ids are given by the ledger */
    size_t kept_count;
};

/* One line of the history. */
struct dw_movement {
    int64_t number;
    const char *when;   /* UTC, "2031-05-04 09:12:00" */
    const char *what;   /* "added", "taken", "used", "returned", "undone" */
    const char *offcut; /* id */
    const char *plan;   /* mark; "" when by hand */
    const char *note;   /* as given; "used": for which jobs; "returned": from which sheet */
};

struct dw_movements {
    const struct dw_movement *at;
    size_t count;
};

/* Opens the ledger, making it when there is none. All functions below report as DW_SURROUNDINGS what the file or database refuses (full disk,
 * locked for longer than five seconds, a newer version), with what to do; DW_IMPOSSIBLE is used where named. */
enum dw_status dw_rack_open(const char *path, struct dw_faults *faults, struct dw_rack **rack);
void dw_rack_close(struct dw_rack *rack); /* NULL is allowed */

/* What is in the rack now; of one material, or all (NULL). */
enum dw_status dw_rack_list(struct dw_rack *rack, const char *material, struct dw_arena *arena, struct dw_faults *faults,
                            struct dw_offcuts *offcuts);

/* Puts a piece in (its id is given by the ledger: *number), or takes one out by id (DW_IMPOSSIBLE when it is not there). */
enum dw_status dw_rack_add(struct dw_rack *rack, const struct dw_offcut *offcut, struct dw_faults *faults, int64_t *number);
enum dw_status dw_rack_take(struct dw_rack *rack, const char *id, const char *note, struct dw_faults *faults);

/* Enters a plan's use and returns its kept offcuts, in one transaction. DW_IMPOSSIBLE when the plan is entered already or an offcut it uses
 * is no longer there; then nothing is changed. */
enum dw_status dw_rack_post(struct dw_rack *rack, const struct dw_posting *posting, struct dw_faults *faults);

/* Undoes a posting by reversing entries: what it used comes back, what it returned goes. DW_IMPOSSIBLE when the plan is not entered, or an
 * offcut that it returned has been used since. */
enum dw_status dw_rack_undo(struct dw_rack *rack, const char *plan, struct dw_faults *faults);

/* The whole history, oldest first. */
enum dw_status dw_rack_history(struct dw_rack *rack, struct dw_arena *arena, struct dw_faults *faults, struct dw_movements *movements);

#endif
