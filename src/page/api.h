/* api.h - what the page may ask: a fixed table of paths, each answered by one function. No sockets here. */
#ifndef DWI_PAGE_API_H
#define DWI_PAGE_API_H

#include <stdbool.h>
#include <stddef.h>

#include <drawerwright/fault.h>
#include <drawerwright/text.h>

#include "worker.h"

/* One request that passed the guard. */
struct dwi_ask {
    const char *folder;
    const char *first_job; /* id to open first; "" */
    struct dwi_worker *worker;
    struct dwi_worker *bench; /* plans what is left, beside the one that follows the drawing */
    struct dw_faults *faults; /* empty; the caller's, since it outlives the guard */
    const char *method;
    const char *path;
    const char *(*argument)(void *context, const char *key); /* of the query, decoded; NULL when it is not there */
    void *context;
    const char *body;
    size_t body_length;
};

/* What is answered. Bytes live in the arena that the caller gave, or are part of the program. */
struct dwi_answer {
    int status; /* HTTP */
    const char *type;
    const char *bytes;
    size_t length;
};

/* Answers; in a guard of `arena`. */
struct dwi_answer dwi_api(const struct dwi_ask *ask, struct dw_arena *arena);

#endif
