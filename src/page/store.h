/* store.h - the files of the page's folder, by id: a name without path or ending. No path ever comes from the web. */
#ifndef DWI_PAGE_STORE_H
#define DWI_PAGE_STORE_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/fault.h>
#include <drawerwright/text.h>

/* True for an id that may name a file: 1 to 80 letters, digits, spaces, '-' and '_' (UTF-8 letters too), not beginning with a space. */
bool dwi_store_is_id(const char *id);

/* All below run in a guard of the arena they are given. */

/* [{"id", "draft": true or false, "job": true or false}] of every .json file of the folder, in the order of their names. "job" is a hint for the
 * page's lists: a file that speaks of neither "cases" nor "parts" is taken for a shop. A file that
 * cannot be read is a fault, and in the list all the same. */
void dwi_store_list(const char *folder, struct dw_faults *faults, struct dw_text *out);

/* A file's bytes, or its draft's (an unsaved change); NULL with a fault when there is none. */
const char *dwi_store_read(const char *folder, const char *id, bool draft, struct dw_arena *arena, struct dw_faults *faults, size_t *length);

bool dwi_store_has(const char *folder, const char *id, bool draft, struct dw_arena *arena);

/* A short text that changes with the bytes on the disk; "" when there is no file, or it cannot be read (a fault). */
const char *dwi_store_version(const char *folder, const char *id, struct dw_arena *arena, struct dw_faults *faults);

/* Saves the file and drops its draft, unless the disk holds another version than `version` ("" : no file yet): then DW_IMPOSSIBLE and nothing is changed. */
enum dw_status dwi_store_save(const char *folder, const char *id, const char *version, const char *bytes, size_t length, struct dw_arena *arena,
                              struct dw_faults *faults);

/* Keeps an unsaved change, or drops it (length 0). */
enum dw_status dwi_store_draft(const char *folder, const char *id, const char *bytes, size_t length, struct dw_arena *arena, struct dw_faults *faults);

#endif
