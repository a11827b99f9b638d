/* ledger.c - statements and transactions on the ledger, and how it refuses. */
#include "ledger.h"

#include <drawerwright/memory.h>

enum dw_status dwi_ledger_refuse(struct dw_rack *rack, struct dw_faults *faults)
{
    const int code = sqlite3_errcode(rack->database);
    const char *cure = "look at the file's rights and the room on the disk";
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED)
        cure = "another program is writing to it: try again when that is done";
    else if (code == SQLITE_NOTADB || code == SQLITE_CORRUPT)
        cure = "the file is no ledger of this program: name another one";
    dw_error(faults, DW_SURROUNDINGS, "rack", sqlite3_db_filename(rack->database, "main"), "the rack's ledger answers: %s\n%s",
             sqlite3_errmsg(rack->database), cure);
    return DW_SURROUNDINGS;
}

bool dwi_ledger_run(struct dw_rack *rack, const char *sql)
{
    return sqlite3_exec(rack->database, sql, NULL, NULL, NULL) == SQLITE_OK;
}

sqlite3_stmt *dwi_ledger_prepare(struct dw_rack *rack, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(rack->database, sql, -1, &statement, NULL) != SQLITE_OK)
        return NULL;
    return statement;
}

void dwi_ledger_bind_text(sqlite3_stmt *statement, int at, const char *text)
{
    (void)sqlite3_bind_text(statement, at, text, -1, SQLITE_TRANSIENT);
}

bool dwi_ledger_finish(sqlite3_stmt *statement)
{
    const bool done = statement != NULL && sqlite3_step(statement) == SQLITE_DONE;
    (void)sqlite3_finalize(statement);
    return done;
}

bool dwi_ledger_finish_integer(sqlite3_stmt *statement, int64_t otherwise, int64_t *value)
{
    *value = otherwise;
    const int step = statement == NULL ? SQLITE_ERROR : sqlite3_step(statement);
    if (step == SQLITE_ROW)
        *value = sqlite3_column_int64(statement, 0);
    (void)sqlite3_finalize(statement);
    return step == SQLITE_ROW || step == SQLITE_DONE;
}

const char *dwi_ledger_column_text(struct dw_arena *arena, sqlite3_stmt *statement, int column)
{
    const unsigned char *text = sqlite3_column_text(statement, column);
    return text == NULL ? "" : dw_arena_string(arena, (const char *)text);
}

enum dw_status dwi_ledger_begin(struct dw_rack *rack, struct dw_faults *faults)
{
    return dwi_ledger_run(rack, "BEGIN IMMEDIATE") ? DW_DONE : dwi_ledger_refuse(rack, faults);
}

enum dw_status dwi_ledger_end(struct dw_rack *rack, enum dw_status status, struct dw_faults *faults)
{
    if (status == DW_DONE && !dwi_ledger_run(rack, "COMMIT"))
        status = dwi_ledger_refuse(rack, faults);
    if (status != DW_DONE)
        (void)dwi_ledger_run(rack, "ROLLBACK");
    return status;
}
