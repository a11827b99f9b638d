/* ledger.h - what the files of the rack's room share: statements on the SQLite file behind one transaction. */
#ifndef DWI_LEDGER_H
#define DWI_LEDGER_H

#include <stdbool.h>
#include <stdint.h>

#include <sqlite3.h>

#include <drawerwright/rack.h>

struct dw_rack {
    sqlite3 *database;
};

/* Reports what SQLite answered last; returns DW_SURROUNDINGS. */
enum dw_status dwi_ledger_refuse(struct dw_rack *rack, struct dw_faults *faults);

bool dwi_ledger_run(struct dw_rack *rack, const char *sql);

/* A statement; NULL when it cannot be made. */
sqlite3_stmt *dwi_ledger_prepare(struct dw_rack *rack, const char *sql);
void dwi_ledger_bind_text(sqlite3_stmt *statement, int at, const char *text);

/* Runs a statement that answers with no row; frees it. */
bool dwi_ledger_finish(sqlite3_stmt *statement);

/* Runs a statement that answers with one integer, or `otherwise` when there is no row; frees it. */
bool dwi_ledger_finish_integer(sqlite3_stmt *statement, int64_t otherwise, int64_t *value);

/* A column's text in `arena` (inside a guard), or "" (a database may hold anything). */
const char *dwi_ledger_column_text(struct dw_arena *arena, sqlite3_stmt *statement, int column);

/* Begins a transaction that writes: DW_DONE, or what SQLite refused, told. */
enum dw_status dwi_ledger_begin(struct dw_rack *rack, struct dw_faults *faults);

/* Ends a transaction: commits when status is DW_DONE and the commit is taken, else rolls back. */
enum dw_status dwi_ledger_end(struct dw_rack *rack, enum dw_status status, struct dw_faults *faults);

/* Makes the tables of progress that a ledger of this version has not yet (versions 2 and 3). */
bool dwi_progress_tables(struct dw_rack *rack, int64_t version);

#endif
