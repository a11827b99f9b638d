/* address.h - places in a job, written like "cases[0].banks[1].drawers[2].height". */
#ifndef DRAWERWRIGHT_ADDRESS_H
#define DRAWERWRIGHT_ADDRESS_H

#include <stdbool.h>
#include <stddef.h>

struct dw_arena;

/* One step of an address: a key, or an index when key is NULL. */
struct dw_address_step {
    const char *key; /* not NUL-ended: key_length bytes inside the address that was split */
    size_t key_length;
    size_t index;
};

/* Splits an address; returns the number of steps and sets *steps (in `arena`, inside a guard), or -1 when the
 * text is no address. "" has no steps. */
long dw_address_split(struct dw_arena *arena, const char *address, const struct dw_address_step **steps);

/* parent + "." + key (no dot when the parent is empty); parent + "[index]". In `arena`. */
const char *dw_address_key(struct dw_arena *arena, const char *parent, const char *key);
const char *dw_address_index(struct dw_arena *arena, const char *parent, size_t index);

#endif
