/* crew.c - a list of chores under one lock, and the threads that take from it.
 *
 * Invariant: the list holds the chores posted and not begun, oldest first. A chore's fields are the crew's while the lock is held; its
 * context belongs to whoever does it, and what it wrote is seen by who waited for it.
 *
 * Chores here take a millisecond or more, so one lock and one condition for all that changes cost nothing that could be measured.
 */
#include <drawerwright/crew.h>

#include <pthread.h>
#include <stdbool.h>
#include <stdlib.h>

enum { HELPERS_MOST = 7 };

enum state { CHORE_NEW, CHORE_POSTED, CHORE_UNDER_WAY, CHORE_DONE };

struct dw_crew {
    pthread_mutex_t lock;
    pthread_cond_t changed;   /* a chore came or was done, or the end has come */
    struct dw_chore *first;
    uint64_t posted;          /* so far */
    int most;                 /* helpers */
    int begun;
    bool ending;
    pthread_t helpers[HELPERS_MOST];
};

struct dw_crew *dw_crew_new(int threads)
{
    struct dw_crew *crew = threads > 1 ? calloc(1, sizeof *crew) : NULL;
    if (crew == NULL)
        return NULL;
    if (pthread_mutex_init(&crew->lock, NULL) != 0) {
        free(crew);
        return NULL;
    }
    if (pthread_cond_init(&crew->changed, NULL) != 0) {
        (void)pthread_mutex_destroy(&crew->lock);
        free(crew);
        return NULL;
    }
    crew->most = threads - 1 < HELPERS_MOST ? threads - 1 : HELPERS_MOST;
    return crew;
}

/* Takes the oldest chore numbered above `after` off the list; NULL when there is none. */
static struct dw_chore *take_after(struct dw_crew *crew, uint64_t after)
{
    struct dw_chore **link = &crew->first;
    while (*link != NULL && (*link)->number <= after)
        link = &(*link)->next;
    struct dw_chore *chore = *link;
    if (chore != NULL)
        *link = chore->next;
    return chore;
}

/* With the lock held, which is given free meanwhile. */
static void do_chore(struct dw_crew *crew, struct dw_chore *chore)
{
    chore->state = CHORE_UNDER_WAY;
    (void)pthread_mutex_unlock(&crew->lock);
    chore->work(chore->context);
    (void)pthread_mutex_lock(&crew->lock);
    chore->state = CHORE_DONE;
    (void)pthread_cond_broadcast(&crew->changed);
}

static void *help(void *context)
{
    struct dw_crew *crew = context;
    (void)pthread_mutex_lock(&crew->lock);
    while (!crew->ending) {
        struct dw_chore *chore = take_after(crew, 0);
        if (chore != NULL)
            do_chore(crew, chore);
        else
            (void)pthread_cond_wait(&crew->changed, &crew->lock);
    }
    (void)pthread_mutex_unlock(&crew->lock);
    return NULL;
}

/* A thread more, unless there are enough. Should none be had, those there are do it all. */
static void begin_helper(struct dw_crew *crew)
{
    if (crew->begun == crew->most)
        return;
    if (pthread_create(&crew->helpers[crew->begun], NULL, help, crew) == 0)
        crew->begun++;
    else
        crew->most = crew->begun;
}

void dw_crew_post(struct dw_crew *crew, struct dw_chore *chores, size_t count)
{
    if (crew == NULL)
        return;
    (void)pthread_mutex_lock(&crew->lock);
    struct dw_chore **end = &crew->first;
    while (*end != NULL)
        end = &(*end)->next;
    for (size_t i = 0; i < count; i++) {
        chores[i].state = CHORE_POSTED;
        chores[i].number = ++crew->posted;
        chores[i].next = NULL;
        *end = &chores[i];
        end = &chores[i].next;
        begin_helper(crew);
    }
    (void)pthread_cond_broadcast(&crew->changed);
    (void)pthread_mutex_unlock(&crew->lock);
}

static void wait_alone(struct dw_chore *chore)
{
    if (chore->state != CHORE_DONE)
        chore->work(chore->context);
    chore->state = CHORE_DONE;
}

void dw_crew_wait(struct dw_crew *crew, struct dw_chore *chore)
{
    if (crew == NULL) {
        wait_alone(chore);
        return;
    }
    (void)pthread_mutex_lock(&crew->lock);
    if (chore->state == CHORE_POSTED)
        (void)take_after(crew, chore->number - 1);
    if (chore->state == CHORE_NEW || chore->state == CHORE_POSTED)
        do_chore(crew, chore);
    while (chore->state != CHORE_DONE) {
        struct dw_chore *other = take_after(crew, chore->number);
        if (other != NULL)
            do_chore(crew, other);
        else
            (void)pthread_cond_wait(&crew->changed, &crew->lock);
    }
    (void)pthread_mutex_unlock(&crew->lock);
}

int dw_crew_helpers(struct dw_crew *crew)
{
    if (crew == NULL)
        return 0;
    (void)pthread_mutex_lock(&crew->lock);
    const int begun = crew->begun;
    (void)pthread_mutex_unlock(&crew->lock);
    return begun;
}

void dw_crew_free(struct dw_crew *crew)
{
    if (crew == NULL)
        return;
    (void)pthread_mutex_lock(&crew->lock);
    crew->ending = true;
    (void)pthread_cond_broadcast(&crew->changed);
    (void)pthread_mutex_unlock(&crew->lock);
    for (int h = 0; h < crew->begun; h++)
        (void)pthread_join(crew->helpers[h], NULL);
    (void)pthread_cond_destroy(&crew->changed);
    (void)pthread_mutex_destroy(&crew->lock);
    free(crew);
}
