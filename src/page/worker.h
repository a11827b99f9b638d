/* worker.h - the one thread that plans. The latest request wins; the ones before it are stopped. A run that nobody asks after any more is stopped too. */
#ifndef DWI_PAGE_WORKER_H
#define DWI_PAGE_WORKER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/drawing.h>
#include <drawerwright/fault.h>
#include <drawerwright/text.h>
#include <drawerwright/work.h>

struct dwi_worker;

/* Returns owned; NULL when a thread or memory cannot be had. */
struct dwi_worker *dwi_worker_new(const char *folder);
void dwi_worker_free(struct dwi_worker *worker);

/* Starts planning the job in `text` (copied, like the id: as the command line takes it from the file's name), stopping what is under way. Returns
 * the number of the run, 0 when memory runs out. */
int64_t dwi_worker_start(struct dwi_worker *worker, const char *id, const char *text, size_t length, enum dw_patience patience, bool use_the_rack);

/* Asks the run to end with the best it has. */
void dwi_worker_stop(struct dwi_worker *worker, int64_t run);

/* Adds where the run stands, as JSON: {"state":"working"|"done"|"failed"|"gone", ...} and, when done, the answer. In a guard of out's arena. */
void dwi_worker_tell(struct dwi_worker *worker, int64_t run, struct dw_text *out);

/* The packet (PDF) of a finished run, drawn now, and its plan file: in the arena; NULL when there is none (or it cannot be drawn: a fault). In a
 * guard. */
const char *dwi_worker_packet(struct dwi_worker *worker, int64_t run, const struct dw_packet_options *options, struct dw_arena *arena,
                              struct dw_faults *faults, size_t *length);
const char *dwi_worker_plan(struct dwi_worker *worker, int64_t run, struct dw_arena *arena, size_t *length);

#endif
