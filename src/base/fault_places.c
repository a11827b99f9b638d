/* fault_places.c - faults that say the same of several places are said once, with all the places. */
#include <drawerwright/fault.h>

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

static bool says_the_same(const struct dw_fault *a, const struct dw_fault *b)
{
    return a->grade == b->grade && strcmp(a->wrong, b->wrong) == 0 && strcmp(a->cure, b->cure) == 0;
}

bool dw_fault_is_repeat(const struct dw_faults *faults, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (says_the_same(&faults->at[i], &faults->at[at]))
            return true;
    return false;
}

size_t dw_fault_next_same(const struct dw_faults *faults, size_t at, size_t from)
{
    while (from < faults->count && !says_the_same(&faults->at[at], &faults->at[from]))
        from++;
    return from;
}

/* Splits "...drawers[7]" into its stem and its last index; false when it does not end in one. */
static bool split_index(const char *address, size_t *stem, long *index)
{
    const char *bracket = strrchr(address, '[');
    char *end = NULL;
    if (bracket == NULL)
        return false;
    *stem = (size_t)(bracket - address);
    *index = strtol(bracket + 1, &end, 10);
    return strcmp(end, "]") == 0;
}

/* True when `next` is the place right behind `last` in the same list. */
static bool follows(const char *last, const char *next)
{
    size_t stem = 0;
    size_t other = 0;
    long index = 0;
    long following = 0;
    return split_index(last, &stem, &index) && split_index(next, &other, &following) && stem == other && strncmp(last, next, stem) == 0 &&
           following == index + 1;
}

const char *dw_fault_places(struct dw_arena *arena, const struct dw_faults *faults, size_t at)
{
    struct dw_text text = dw_text_in(arena);
    const char *last = NULL;
    for (size_t i = at; i < faults->count; i = dw_fault_next_same(faults, at, i + 1)) {
        const char *address = faults->at[i].address;
        const size_t next = dw_fault_next_same(faults, at, i + 1);
        const bool run_goes_on = last != NULL && follows(last, address) && next < faults->count && follows(address, faults->at[next].address);
        if (last == NULL)
            dw_text_add(&text, address);
        else if (strcmp(last, address) != 0 && !run_goes_on)
            dw_text_addf(&text, follows(last, address) ? " to %s" : ", %s", address);
        last = address;
    }
    return text.bytes;
}
