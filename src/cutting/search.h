/* search.h - the search for a cheapest plan, and for a plan within counts. */
#ifndef DWI_CUTTING_SEARCH_H
#define DWI_CUTTING_SEARCH_H

#include "desk.h"
#include "ruin.h"

struct dw_crew;

/* A mix of sheets that is being aimed at, with the search's state for it. */
struct goal {
    int64_t *counts;
    dw_money cost;
    struct ruin ruin;
    struct dw_arena *arena; /* apart */
    struct meter meter;     /* of its last run, whose outcome follows */
    bool met;
    bool enough;            /* memory did not run out */
};

enum {
    DWI_GOALS_MOST = 6,
    DWI_SHORT_ROUNDS = 60000000, /* up to so many ticks rounds are short: most jobs end there */
    DWI_FIRST_TRIES = 6,         /* at each sheet, of the first value correction */
};

struct search {
    const struct problem *problem;
    struct dw_arena *arena;
    struct meter meter;
    struct random random;
    struct dw_crew *crew;      /* NULL: one thread does it all */
    bool beside;               /* rounds are long: goals and desk can be worked on at the same time */
    struct desk desk;

    /* the half with the goals */
    struct dw_arena *finding;  /* holds goals and finds, and what is scratch meanwhile */
    struct goal goals[DWI_GOALS_MOST];
    int goal_count;
    struct known known;        /* inequalities at the round's start */
    int64_t *mix;              /* the blocking mix then */
    struct pool finds;         /* layouts that the desk's pool does not have yet */
    struct dw_arena *finds_arena;

    bool has_plan;
    bool is_told;              /* `best` was passed on with the progress */
    bool impossible;           /* proved */
    struct draft best;
    struct dw_arena *best_arena; /* holds it and its layouts */
    dw_money bound;
    bool is_part;              /* of a greater search, which reports and polishes */
};

/* A search that leaves out the methods of `without` (0: none). Memory of it, beneath `arena` (inside a guard). */
struct search *dwi_search_new(const struct dw_cut_request *request, unsigned without, struct dw_arena *arena);

/* A search for a part of what another one wants, with its meter and crew. */
struct search *dwi_search_part(struct search *search, const struct problem *rest, struct dw_arena *arena);

/* Takes a plan when it is better than the best. The draft is copied. */
void dwi_search_take(struct search *search, const struct draft *draft);

/* Looks for the cheapest plan until proved or the meter (started by the caller) closes. */
void dwi_search_cheapest(struct search *search);

/* The same without last touches; for a part. */
void dwi_search_find(struct search *search);

/* The work of a round, in ticks: more the longer the search has gone on. */
int64_t dwi_search_quantum(const struct search *search);

/* within.c: looks for a plan within counts until found, ruled out, or the meter closes. The draft lives until the search is asked again. */
enum dw_cut_outcome dwi_search_within(struct search *search, const int64_t *counts, struct draft *draft);

/* big.c: are pieces so many that strips are worth a try? */
bool dwi_search_is_big(const struct search *search);

/* big.c: a first plan of a job of many pieces: most of it in sheets of well-filled strips, the rest by a search of its own. */
void dwi_search_take_strips(struct search *search);

/* spare.c: tries to do without the owned sheets that the plan uses, at the same cost. */
void dwi_search_spare_owned(struct search *search, int64_t ticks);

#endif
