/* store.c - see store.h. Drafts lie in a folder .drafts beneath, so that they survive a closed tab, another port and a killed server. */
#include "store.h"

#include <dirent.h>
#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

enum { ID_MOST = 80 };

bool dwi_store_is_id(const char *id)
{
    const size_t length = strlen(id);
    if (length == 0 || length > ID_MOST || id[0] == ' ' || !dw_utf8_is_clean(id, length))
        return false;
    for (; *id != '\0'; id++) {
        const unsigned char c = (unsigned char)*id;
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c >= 0x80;
        if (!letter && c != ' ' && c != '-' && c != '_')
            return false;
    }
    return true;
}

static const char *path_of(const char *folder, const char *id, bool draft, struct dw_arena *arena)
{
    return dw_arena_format(arena, draft ? "%s/.drafts/%s.json" : "%s/%s.json", folder, id);
}

struct id {
    char name[ID_MOST + 1];
};

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct id *)a)->name, ((const struct id *)b)->name);
}

/* Counts the ids of a folder, and writes the first `most` of them to ids (may be NULL). Allocates nothing of ours, so that the open folder is
 * held across no allocation that may fail. */
static size_t scan(const char *folder, struct id *ids, size_t most)
{
    size_t count = 0;
    DIR *directory = opendir(folder);
    for (struct dirent *entry = NULL; directory != NULL && (entry = readdir(directory)) != NULL;) {
        struct id id = {""};
        const char *ending = strrchr(entry->d_name, '.');
        if (ending == NULL || strcmp(ending, ".json") != 0 || (size_t)(ending - entry->d_name) > ID_MOST)
            continue;
        memcpy(id.name, entry->d_name, (size_t)(ending - entry->d_name));
        if (!dwi_store_is_id(id.name))
            continue;
        if (count < most)
            ids[count] = id;
        count++;
    }
    if (directory != NULL)
        (void)closedir(directory);
    return count;
}

static bool looks_like_job(const char *folder, const char *id, struct dw_arena *arena, struct dw_faults *faults)
{
    size_t length = 0;
    const char *bytes = dw_file_read(path_of(folder, id, false, arena), arena, faults, &length);
    return bytes == NULL || strstr(bytes, "\"cases\"") != NULL || strstr(bytes, "\"parts\"") != NULL;
}

void dwi_store_list(const char *folder, struct dw_faults *faults, struct dw_text *out)
{
    const size_t room = scan(folder, NULL, 0);
    struct id *ids = dw_arena_alloc(out->arena, room, sizeof *ids);
    size_t count = scan(folder, ids, room);
    count = count < room ? count : room; /* files may have come in between */
    qsort(ids, count, sizeof *ids, by_name);
    dw_text_add_char(out, '[');
    for (size_t i = 0; i < count; i++) {
        const bool draft = dwi_store_has(folder, ids[i].name, true, out->arena);
        dw_text_add(out, i == 0 ? "{\"id\": " : ", {\"id\": ");
        dw_json_quote(ids[i].name, out);
        const bool job = looks_like_job(folder, ids[i].name, out->arena, faults);
        dw_text_addf(out, ", \"draft\": %s, \"job\": %s}", draft ? "true" : "false", job ? "true" : "false");
    }
    dw_text_add_char(out, ']');
}

const char *dwi_store_read(const char *folder, const char *id, bool draft, struct dw_arena *arena, struct dw_faults *faults, size_t *length)
{
    return dw_file_read(path_of(folder, id, draft, arena), arena, faults, length);
}

/* FNV-1a, 64 bits (Fowler, Noll, Vo; the offset and prime are those of the authors' page, from memory). */
static uint64_t digest(const char *bytes, size_t length)
{
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ (unsigned char)bytes[i]) * UINT64_C(1099511628211);
    return hash;
}

bool dwi_store_has(const char *folder, const char *id, bool draft, struct dw_arena *arena)
{
    return access(path_of(folder, id, draft, arena), F_OK) == 0;
}

const char *dwi_store_version(const char *folder, const char *id, struct dw_arena *arena, struct dw_faults *faults)
{
    size_t length = 0;
    if (!dwi_store_has(folder, id, false, arena))
        return "";
    const char *bytes = dwi_store_read(folder, id, false, arena, faults, &length);
    return bytes == NULL ? "" : dw_arena_format(arena, "%016" PRIx64, digest(bytes, length));
}

enum dw_status dwi_store_save(const char *folder, const char *id, const char *version, const char *bytes, size_t length, struct dw_arena *arena,
                              struct dw_faults *faults)
{
    if (strcmp(dwi_store_version(folder, id, arena, faults), version) != 0) {
        dw_error(faults, DW_IMPOSSIBLE, "changed-on-disk", id, "the file on the disk has been changed by someone else\nopen it again, or save under another name");
        return DW_IMPOSSIBLE;
    }
    const enum dw_status status = dw_file_write(path_of(folder, id, false, arena), bytes, length, faults);
    if (status == DW_DONE)
        (void)unlink(path_of(folder, id, true, arena));
    return status;
}

enum dw_status dwi_store_draft(const char *folder, const char *id, const char *bytes, size_t length, struct dw_arena *arena, struct dw_faults *faults)
{
    const char *path = path_of(folder, id, true, arena);
    if (length == 0) {
        (void)unlink(path);
        return DW_DONE;
    }
    if (mkdir(dw_arena_format(arena, "%s/.drafts", folder), 0777) != 0 && errno != EEXIST) {
        dw_error(faults, DW_SURROUNDINGS, "no-drafts", folder, "unsaved changes cannot be kept here: %s\nsave the job, or open a folder that may be written", strerror(errno));
        return DW_SURROUNDINGS;
    }
    return dw_file_write(path, bytes, length, faults);
}
