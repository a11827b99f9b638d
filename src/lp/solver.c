/* solver.c - see solver.h.
 *
 * GLPK 5.0 calls the hook set by glp_error_hook before it aborts. The hook frees the environment (without that the error state would
 * stick, and any later call would end here again) and jumps. Hooks live in the environment and vanish with it, so each
 * run sets them anew. Nothing that changes after setjmp is a local of that frame: state is in *context or thread-local.
 */
#include "solver.h"

#include <glpk.h>
#include <setjmp.h>
#include <stddef.h>

static _Thread_local struct {
    unsigned epoch; /* counts the environments that died of a fatal error */
    int models;     /* alive in the environment of this epoch */
} environment;

unsigned solver_enter(void)
{
    environment.models++;
    return environment.epoch;
}

bool solver_alive(unsigned epoch)
{
    return epoch == environment.epoch;
}

void solver_leave(unsigned epoch)
{
    if (!solver_alive(epoch))
        return;
    environment.models--;
    if (environment.models == 0)
        glp_free_env();
}

static void on_fatal_error(void *place)
{
    glp_free_env();
    environment.epoch++;
    environment.models = 0;
    jmp_buf *const buffer = place;
    longjmp(*buffer, 1);
}

/* Swallows all text: standard output belongs to the answer, and a fatal error turns the terminal on again. */
static int swallow(void *context, const char *text)
{
    (void)context;
    (void)text;
    return 1;
}

bool solver_run(void (*body)(void *context), void *context)
{
    jmp_buf place;
    if (setjmp(place) != 0)
        return false;
    glp_error_hook(on_fatal_error, &place);
    glp_term_hook(swallow, NULL);
    body(context);
    glp_error_hook(NULL, NULL);
    return true;
}
