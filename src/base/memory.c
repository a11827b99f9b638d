/* memory.c - arenas with a guard.
 *
 * An arena is a list of blocks, each twice the last up to a ceiling. Memory that cannot be had does not
 * return NULL to a hundred callers: it jumps to the guard that the stage set up, and the stage answers
 * DW_SURROUNDINGS. That is sound because a body under a guard holds nothing but arena memory.
 * Invariant: `guard` of a root, or of an arena apart, is the innermost running guard of those beneath it that are not apart, or
 * NULL outside of one. So what two threads use at the same time has two guards.
 */
#include <drawerwright/memory.h>

#include <assert.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_BLOCK = 4096, LARGEST_BLOCK = 1 << 20 };

struct block {
    struct block *previous;
    size_t size; /* bytes behind the header */
    size_t used;
    max_align_t bytes[];
};

struct guard {
    struct guard *outer;
    struct dw_arena *root;
    struct dw_arena *kept; /* newest child that was there before */
    jmp_buf place;
};

struct dw_arena {
    struct block *last;
    size_t next_size;
    struct dw_arena *parent;
    struct dw_arena *children; /* newest first */
    struct dw_arena *sibling;
    bool apart;
    struct guard *guard; /* of a root and of one apart only */
};

/* For tests alone; all threads share them. */
static atomic_size_t asked;
static atomic_size_t fail_at;

size_t dw_memory_fail_at(size_t n)
{
    atomic_store(&fail_at, n);
    return atomic_exchange(&asked, 0);
}

/* The one door to the system's memory. */
static void *take(size_t size)
{
    const size_t nth = atomic_fetch_add_explicit(&asked, 1, memory_order_relaxed) + 1;
    const size_t first_to_fail = atomic_load_explicit(&fail_at, memory_order_relaxed);
    if (first_to_fail != 0 && nth >= first_to_fail)
        return NULL;
    return malloc(size);
}

struct dw_arena *dw_arena_new(void)
{
    struct dw_arena *arena = take(sizeof *arena);
    if (arena == NULL)
        return NULL;
    *arena = (struct dw_arena){.next_size = FIRST_BLOCK};
    return arena;
}

static void free_blocks(struct dw_arena *arena)
{
    while (arena->last != NULL) {
        struct block *previous = arena->last->previous;
        free(arena->last);
        arena->last = previous;
    }
}

static void free_children(struct dw_arena *arena)
{
    while (arena->children != NULL)
        dw_arena_free(arena->children); /* takes itself off the list: NOLINT(clang-analyzer-unix.Malloc) */
}

static void unlink_from_parent(const struct dw_arena *arena)
{
    struct dw_arena **link = &arena->parent->children;
    while (*link != arena)
        link = &(*link)->sibling;
    *link = arena->sibling;
}

void dw_arena_free(struct dw_arena *arena)
{
    if (arena == NULL)
        return;
    free_children(arena);
    free_blocks(arena);
    if (arena->parent != NULL)
        unlink_from_parent(arena);
    free(arena);
}

/* The root, or the one apart that the arena is beneath. */
static struct dw_arena *root_of(struct dw_arena *arena)
{
    while (arena->parent != NULL && !arena->apart)
        arena = arena->parent;
    return arena;
}

_Noreturn void dw_arena_exhaust(struct dw_arena *arena)
{
    const struct dw_arena *root = root_of(arena);
    while (root->guard == NULL && root->parent != NULL)
        root = root_of(root->parent);
    if (root->guard == NULL)
        abort(); /* a fault of the program: an allocation outside of every guard */
    longjmp(root->guard->place, 1);
}

/* Frees the children that are newer than `oldest_kept`. */
static void free_newer_children(struct dw_arena *arena, const struct dw_arena *oldest_kept)
{
    while (arena->children != NULL && arena->children != oldest_kept)
        dw_arena_free(arena->children); /* NOLINT(clang-analyzer-unix.Malloc): as above */
}

/* What is needed after the jump sits in *guard, which is not changed between setjmp and the jump. */
bool dw_arena_guard(struct dw_arena *arena, void (*body)(void *context), void *context)
{
    struct guard guard = {.root = root_of(arena), .kept = arena->children};
    guard.outer = guard.root->guard;
    if (setjmp(guard.place) != 0) {
        guard.root->guard = guard.outer;
        free_newer_children(arena, guard.kept);
        return false;
    }
    guard.root->guard = &guard;
    body(context);
    guard.root->guard = guard.outer;
    return true;
}

struct dw_arena *dw_arena_child(struct dw_arena *parent)
{
    struct dw_arena *child = dw_arena_new();
    if (child == NULL)
        dw_arena_exhaust(parent);
    child->parent = parent;
    child->sibling = parent->children;
    parent->children = child;
    return child;
}

struct dw_arena *dw_arena_apart(struct dw_arena *parent)
{
    struct dw_arena *child = dw_arena_child(parent);
    child->apart = true;
    return child;
}

static void add_block(struct dw_arena *arena, size_t least)
{
    size_t size = arena->next_size;
    if (size < least)
        size = least;
    struct block *block = take(sizeof *block + size);
    if (block == NULL)
        dw_arena_exhaust(arena);
    *block = (struct block){.previous = arena->last, .size = size};
    arena->last = block;
    if (arena->next_size < LARGEST_BLOCK)
        arena->next_size *= 2;
}

void *dw_arena_alloc(struct dw_arena *arena, size_t count, size_t size)
{
    if (size != 0 && count > (SIZE_MAX / 4) / size)
        dw_arena_exhaust(arena);
    const size_t step = sizeof(max_align_t);
    const size_t wanted = (count * size + step - 1) / step * step;
    if (arena->last == NULL || arena->last->size - arena->last->used < wanted)
        add_block(arena, wanted);
    char *place = (char *)arena->last->bytes + arena->last->used;
    arena->last->used += wanted;
    memset(place, 0, wanted);
    return place;
}

void *dw_arena_copy(struct dw_arena *arena, const void *from, size_t count, size_t size)
{
    void *copy = dw_arena_alloc(arena, count, size);
    if (count * size != 0)
        memcpy(copy, from, count * size);
    return copy;
}

void *dw_arena_grow(struct dw_arena *arena, void *array, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity)
        return array;
    const size_t wider = *capacity == 0 ? 8 : *capacity * 2;
    void *moved = dw_arena_alloc(arena, wider, size);
    if (count != 0)
        memcpy(moved, array, count * size);
    *capacity = wider;
    return moved;
}

char *dw_arena_slice(struct dw_arena *arena, const char *text, size_t length)
{
    char *copy = dw_arena_alloc(arena, length + 1, 1);
    memcpy(copy, text, length);
    return copy;
}

char *dw_arena_string(struct dw_arena *arena, const char *text)
{
    return dw_arena_slice(arena, text, strlen(text));
}

char *dw_arena_format(struct dw_arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    assert(length >= 0);
    char *text = dw_arena_alloc(arena, (size_t)length + 1, 1);
    va_start(arguments, format);
    (void)vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

void dw_arena_clear(struct dw_arena *arena)
{
    free_children(arena);
    free_blocks(arena);
    arena->next_size = FIRST_BLOCK;
}

size_t dw_arena_held(const struct dw_arena *arena)
{
    size_t held = sizeof *arena;
    for (const struct block *block = arena->last; block != NULL; block = block->previous)
        held += sizeof *block + block->size;
    for (const struct dw_arena *child = arena->children; child != NULL; child = child->sibling)
        held += dw_arena_held(child);
    return held;
}
