/* fault.h - what is wrong, where, and what would be right.
 *
 * One type and one list serve the whole library. A stage does not stop at the first fault: it reports every
 * one it can see and then says, by its status, whether its result may be used. A warning is a fault of a
 * lower grade: the plan goes on and the warning is printed in it.
 */
#ifndef DRAWERWRIGHT_FAULT_H
#define DRAWERWRIGHT_FAULT_H

#include <stdbool.h>
#include <stddef.h>

struct dw_arena;

/* What a library call answers; the numbers are the exit statuses of the program. */
enum dw_status {
    DW_DONE = 0,         /* done as asked (warnings may stand in the list) */
    DW_IMPOSSIBLE = 1,   /* the job is well formed but cannot be done as asked */
    DW_INPUT = 2,        /* the input or the call is wrong */
    DW_SURROUNDINGS = 3, /* a file, a database or memory failed */
    DW_PROGRAM = 4       /* a fault of the program itself */
};

enum dw_grade {
    DW_WARNING, /* the plan goes on */
    DW_ERROR    /* the stage cannot give a result */
};

/* One fault. All strings are UTF-8, never NULL once in a list, and live as long as the list. */
struct dw_fault {
    enum dw_grade grade;
    enum dw_status status; /* what an error of this kind makes of the call; DW_DONE for a warning */
    const char *code;      /* stable, lower case, dashes: "height-over", "unknown-key" */
    const char *address;   /* place in the job: "cases[0].banks[1].drawers[2].height"; "" for the whole */
    const char *wrong;     /* what is wrong, one sentence without a period at its end */
    const char *cure;      /* what would be right, likewise; "" where nothing can be advised */
};

/* The list. Plain to read; filled only by the functions below. A caller makes it with dw_faults_new and
 * frees it with dw_faults_free. Should memory run out while a fault is being added, the list still counts
 * it and out_of_memory is set: a fault is never lost in silence. */
struct dw_faults {
    const struct dw_fault *at; /* count entries, in the order they were found */
    size_t count;
    size_t errors;             /* how many of them (kept or lost) are errors */
    size_t warnings;
    enum dw_status status;     /* the gravest status of any error; DW_DONE while there is none */
    bool out_of_memory;
};

/* Returns owned; NULL when memory runs out. */
struct dw_faults *dw_faults_new(void);
void dw_faults_free(struct dw_faults *faults);

/* Adds an error whose kind is `status`, or a warning. One printf format holds both sentences: what is wrong, a
 * newline, what would be right ("width %s is over %s\nat most %s fits here"); the second may be left out. All
 * strings are copied. Needs no guard. */
void dw_error(struct dw_faults *faults, enum dw_status status, const char *code, const char *address,
              const char *format, ...) __attribute__((format(printf, 5, 6)));
void dw_warn(struct dw_faults *faults, const char *code, const char *address, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Puts every fault of `from` behind those of `into`, each address led by `prefix` (may be ""). */
void dw_faults_append(struct dw_faults *into, const struct dw_faults *from, const char *prefix);

/* For printing: several faults may say the same of different places. True when an earlier one says what faults->at[at] says ... */
bool dw_fault_is_repeat(const struct dw_faults *faults, size_t at);

/* ... and all the places of which it is said, "cases[0].banks[0].drawers[0] to cases[0].banks[0].drawers[7], parts[2]", in `arena` (inside a guard). */
const char *dw_fault_places(struct dw_arena *arena, const struct dw_faults *faults, size_t at);

/* The next fault from `from` on that says the same as faults->at[at]; count when there is none. */
size_t dw_fault_next_same(const struct dw_faults *faults, size_t at, size_t from);

/* "error" or "warning". */
const char *dw_grade_word(enum dw_grade grade);

#endif
