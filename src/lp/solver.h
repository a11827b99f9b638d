/* solver.h - GLPK kept from taking the process with it.
 *
 * GLPK ends a fatal error (misuse, lack of memory, an internal assertion on numerical trouble) with abort(). Here such an error ends
 * in a jump back to solver_run instead. All state of GLPK belongs to one environment for each thread; a fatal error frees it,
 * and with it every model of the thread dies at once. The epoch of the environment tells the dead from the living.
 */
#ifndef DWI_LP_SOLVER_H
#define DWI_LP_SOLVER_H

#include <stdbool.h>

/* Joins one more model to this thread's environment; returns its epoch. */
unsigned solver_enter(void);

/* Takes a model out again; the environment goes with the last one, so that a thread leaves nothing behind. Does nothing for a model
 * whose environment died before. */
void solver_leave(unsigned epoch);

/* Is the environment that a model was made in still there? */
bool solver_alive(unsigned epoch);

/* Runs body(context), which calls GLPK, in silence. Returns false after a fatal error: then every model of the thread is dead. */
bool solver_run(void (*body)(void *context), void *context);

#endif
