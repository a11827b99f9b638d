/* worker.h - the one thread that plans. The latest request wins; the ones before it are stopped. A run that nobody asks after any more is stopped too:
 * its page is closed. A run may go on from a finished one of the same job: what is shown on the way, and kept when it is stopped, is never dearer
 * than that. */
#ifndef DWI_PAGE_WORKER_H
#define DWI_PAGE_WORKER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/drawing.h>
#include <drawerwright/fault.h>
#include <drawerwright/text.h>
#include "planning.h"

struct dwi_worker;

/* Returns owned; NULL when a thread or memory cannot be had. A run is forgotten when nobody asks after it for so long; 0: 20 seconds. */
struct dwi_worker *dwi_worker_new(const char *folder, int64_t forgotten_seconds);
void dwi_worker_free(struct dwi_worker *worker);

/* Starts planning (its texts are copied), stopping what is under way. Returns the number of the run, 0 when memory runs out. */
int64_t dwi_worker_start(struct dwi_worker *worker, const struct dwi_wish *wish);

/* Asks the run to end with the best it has. */
void dwi_worker_stop(struct dwi_worker *worker, int64_t run);

/* Adds where the run stands, as JSON: {"state": "working", "what", ...} with what dwi_glimpses_tell says of what was drawn since `seen`; {"state":
 * "done" or "failed", ...} with the answer; {"state": "gone"}. In a guard of out's arena. */
void dwi_worker_tell(struct dwi_worker *worker, int64_t run, int64_t seen, struct dw_text *out);

/* The packet (PDF) of a finished run, drawn now, and its plan file: in the arena; NULL when there is none (or it cannot be drawn: a fault). In a
 * guard. */
const char *dwi_worker_packet(struct dwi_worker *worker, int64_t run, const struct dw_packet_options *options, struct dw_arena *arena,
                              struct dw_faults *faults, size_t *length);
const char *dwi_worker_plan(struct dwi_worker *worker, int64_t run, struct dw_arena *arena, size_t *length);

#endif
