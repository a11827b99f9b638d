/* address.c - addresses of places in a job: keys joined by dots, indices in brackets. */
#include <drawerwright/address.h>

#include <stdint.h>
#include <string.h>

#include <drawerwright/memory.h>

const char *dw_address_key(struct dw_arena *arena, const char *parent, const char *key)
{
    return dw_arena_format(arena, parent[0] == '\0' ? "%s%s" : "%s.%s", parent, key);
}

const char *dw_address_index(struct dw_arena *arena, const char *parent, size_t index)
{
    return dw_arena_format(arena, "%s[%zu]", parent, index);
}

/* Reads "[12]"; returns the bytes read, 0 when it is none. */
static size_t read_index(const char *at, size_t *index)
{
    size_t length = 1;
    size_t value = 0;
    for (; at[length] >= '0' && at[length] <= '9'; length++) {
        if (value > SIZE_MAX / 16)
            return 0;
        value = value * 10 + (size_t)(at[length] - '0');
    }
    if (length == 1 || at[length] != ']')
        return 0;
    *index = value;
    return length + 1;
}

long dw_address_split(struct dw_arena *arena, const char *address, const struct dw_address_step **steps)
{
    struct dw_address_step *found = dw_arena_alloc(arena, strlen(address) + 1, sizeof *found);
    long count = 0;
    *steps = found;
    for (const char *at = address; *at != '\0';) {
        struct dw_address_step *step = &found[count++];
        if (*at == '[') {
            const size_t length = read_index(at, &step->index);
            if (length == 0)
                return -1;
            at += length;
            continue;
        }
        if (at != address && *at++ != '.')
            return -1;
        step->key = at;
        step->key_length = strcspn(at, ".[");
        if (step->key_length == 0)
            return -1;
        at += step->key_length;
    }
    return count;
}
