/* memory.h - arenas: memory that is given back all at once.
 *
 * Every result of the library lives in an arena that the caller owns: one dw_arena_free gives back a whole
 * job, plan or packet. Inside the library a stage runs its body under a guard (dw_arena_guard): when memory
 * runs out anywhere in the body, control comes back to the guard, which answers false. So no function in
 * between tests for NULL, and none may hold anything but arena memory across an allocation.
 */
#ifndef DRAWERWRIGHT_MEMORY_H
#define DRAWERWRIGHT_MEMORY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct dw_arena; /* opaque; used by one thread at a time */

/* Returns owned; NULL when memory runs out. */
struct dw_arena *dw_arena_new(void);

/* Gives back the arena, its children and all that was allocated from them. NULL is allowed. */
void dw_arena_free(struct dw_arena *arena);

/* Runs body(context). Returns true when it came to its end, false when memory ran out in it; then every
 * child arena made inside the body is gone, and what the body left in *context must not be read, save
 * what it had before. Guards nest. */
bool dw_arena_guard(struct dw_arena *arena, void (*body)(void *context), void *context);

/* Goes to the guard as if memory had run out: for one who caught that by a guard of its own, to give back what no arena holds. Only
 * inside a guard. */
_Noreturn void dw_arena_exhaust(struct dw_arena *arena);

/* A working arena beneath `parent`: its exhaustion unwinds to the parent's guard, and it goes with the
 * parent unless freed before. Never NULL. Only inside a guard of the parent. */
struct dw_arena *dw_arena_child(struct dw_arena *parent);

/* A child for another thread: that one may use it, inside a guard of it, while this one uses the parent. It goes with the parent, too.
 * Without a running guard of its own its exhaustion unwinds to the parent's. */
struct dw_arena *dw_arena_apart(struct dw_arena *parent);

/* Zeroed room for `count` things of `size` bytes, aligned for any type; never NULL (count 0 gives a valid
 * pointer to nothing). Only inside a guard. */
void *dw_arena_alloc(struct dw_arena *arena, size_t count, size_t size);

/* A copy of `count` things. Only inside a guard. */
void *dw_arena_copy(struct dw_arena *arena, const void *from, size_t count, size_t size);

/* Room for one more thing at the end of a growing array: returns the array, moved and doubled when
 * *capacity is reached. The old place stays valid memory until the arena is freed. Only inside a guard. */
void *dw_arena_grow(struct dw_arena *arena, void *array, size_t count, size_t *capacity, size_t size);

/* A copy of a string; of `length` bytes of one; of a formatted one. Only inside a guard. */
char *dw_arena_string(struct dw_arena *arena, const char *text);
char *dw_arena_slice(struct dw_arena *arena, const char *text, size_t length);
char *dw_arena_format(struct dw_arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Gives back all that was allocated from this arena since it was made, but keeps the arena (its children
 * too are freed). For loops that reuse one working arena. */
void dw_arena_clear(struct dw_arena *arena);

/* Bytes now held from the system by the arena and its children. */
size_t dw_arena_held(const struct dw_arena *arena);

/* For tests: let the n-th allocation from the system fail from now on (and the ones after it), whatever the thread; 0 switches that
 * off. Returns how many have been asked for since the last call. */
size_t dw_memory_fail_at(size_t n);

#endif
