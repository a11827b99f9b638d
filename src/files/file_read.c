/* file_read.c - whole files in. */
#include "file_read.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

struct slurp {
    struct dw_arena *arena;
    size_t most;
    FILE *file;
    struct dw_text text;
};

static void slurp_body(void *context)
{
    struct slurp *slurp = context;
    char some[4096];
    slurp->text = dw_text_in(slurp->arena);
    for (size_t read = 1; read > 0 && slurp->text.length <= slurp->most;) {
        read = fread(some, 1, sizeof some, slurp->file);
        dw_text_add_bytes(&slurp->text, some, read);
    }
}

static void cannot(struct dw_faults *faults, const char *path, int error)
{
    dw_error(faults, DW_SURROUNDINGS, "not-read", path, "the file cannot be read: %s\nthe name of a file that may be read", strerror(error));
}

const char *dwi_file_read(const char *path, size_t most, struct dw_arena *arena, struct dw_faults *faults, size_t *length)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        cannot(faults, path, errno);
        return NULL;
    }
    struct slurp slurp = {.arena = arena, .most = most, .file = file};
    errno = 0;
    const bool whole = dw_arena_guard(arena, slurp_body, &slurp);
    const int error = errno;
    const bool failed = ferror(file) != 0;
    (void)fclose(file); /* nothing was written */
    if (!whole)
        dw_error(faults, DW_SURROUNDINGS, "out-of-memory", path, "memory ran out while the file was read");
    else if (failed)
        cannot(faults, path, error);
    else if (slurp.text.length > most)
        dw_error(faults, DW_INPUT, "too-large", path, "the file is larger than %zu MiB\na smaller file", most >> 20);
    else {
        *length = slurp.text.length;
        return slurp.text.bytes;
    }
    return NULL;
}

const char *dw_file_read(const char *path, struct dw_arena *arena, struct dw_faults *faults, size_t *length)
{
    return dwi_file_read(path, DW_FILE_MOST, arena, faults, length);
}
