/* crew.h - chores that do not see one another, done by a few threads.
 *
 * Who has several chores posts them and then waits for each. One that nobody has begun by then is done by the thread that waits; so all get done
 * without a crew too (NULL), in the order in which they are waited for. What comes out is the same with any number of threads as long as no
 * chore reads what another one writes. Chores may post chores. A chore always returns: memory that runs out in it ends at a guard of its own.
 */
#ifndef DRAWERWRIGHT_CREW_H
#define DRAWERWRIGHT_CREW_H

#include <stddef.h>
#include <stdint.h>

struct dw_crew; /* opaque */

/* Owned by who posts it, and in its place until it was waited for. */
struct dw_chore {
    void (*work)(void *context);
    void *context;
    /* the crew's: all zero before */
    int state;
    uint64_t number;
    struct dw_chore *next;
};

/* At most `threads` at work, the caller's among them; the others begin when there is a chore for them. Returns owned; NULL when one thread is all, or
 * memory ran out: then the caller works alone. */
struct dw_crew *dw_crew_new(int threads);

/* Ends the threads. All chores posted have been waited for. NULL is allowed. */
void dw_crew_free(struct dw_crew *crew);

/* Lets others begin the chores, the first one first. */
void dw_crew_post(struct dw_crew *crew, struct dw_chore *chores, size_t count);

/* Returns when the chore is done. Meanwhile this thread does chores posted after it, never older ones: those may be much longer. */
void dw_crew_wait(struct dw_crew *crew, struct dw_chore *chore);

/* How many threads the crew has begun beside the caller's. */
int dw_crew_helpers(struct dw_crew *crew);

#endif
