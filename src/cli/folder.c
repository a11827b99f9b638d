/* folder.c - a folder to write to, made with those above it. That of a plan is made before the search begins: who waited for a plan is not told then that it
 * can be written nowhere.
 */
#include "cli.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include <drawerwright/memory.h>

static bool is_folder(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

enum dw_status cli_make_folder(struct dw_arena *arena, const char *folder, struct dw_faults *faults)
{
    const size_t length = strlen(folder);
    for (size_t i = 1; i <= length; i++) {
        if (i < length && folder[i] != '/')
            continue;
        const char *path = dw_arena_slice(arena, folder, i);
        if (mkdir(path, 0777) == 0)
            continue;
        const int reason = errno;
        if (is_folder(path))
            continue;
        dw_error(faults, DW_SURROUNDINGS, "no-folder", folder, "the folder cannot be made: %s\nname another one", strerror(reason));
        return DW_SURROUNDINGS;
    }
    return DW_DONE;
}
