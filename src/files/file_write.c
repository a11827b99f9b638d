/* file_write.c - a file written whole or not at all: to a file aside in the same folder, synced, renamed over the old one. */
#include <drawerwright/files.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <drawerwright/fault.h>

enum { PATH_ROOM = 4096 };

static bool write_all(int file, const char *bytes, size_t length)
{
    while (length > 0) {
        const ssize_t written = write(file, bytes, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        bytes += written;
        length -= (size_t)written;
    }
    return true;
}

/* The rights a plain new file would have: mkstemp makes it private. */
static mode_t usual_rights(void)
{
    const mode_t mask = umask(0);
    (void)umask(mask);
    return 0666 & ~mask;
}

/* The folder of a file, held open: even when it is moved meanwhile, what lies aside in it can be taken out again. -1
 * when there is none, or it may not be listed. */
static int open_folder(const char *path, const char *name)
{
    char folder[PATH_ROOM] = ".";
    const size_t length = (size_t)(name - path);
    if (length > 0) {
        memcpy(folder, path, length);
        folder[length] = '\0';
    }
    return open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

static bool fill(int file, const char *bytes, size_t length)
{
    const bool done = write_all(file, bytes, length) && fchmod(file, usual_rights()) == 0 && fsync(file) == 0;
    const int why = errno;
    if (close(file) != 0)
        return false;
    errno = why;
    return done;
}

static bool write_aside(char *aside, const char *path, const char *bytes, size_t length)
{
    const char *slash = strrchr(aside, '/');
    const char *name = slash == NULL ? aside : slash + 1;
    const int folder = open_folder(aside, name);
    const int file = mkstemp(aside);
    const bool done = file >= 0 && fill(file, bytes, length) && rename(aside, path) == 0;
    const int why = errno;
    if (file >= 0 && !done)
        (void)unlinkat(folder < 0 ? AT_FDCWD : folder, folder < 0 ? aside : name, 0);
    if (folder >= 0)
        (void)close(folder);
    errno = why;
    return done;
}

enum dw_status dw_file_write(const char *path, const char *bytes, size_t length, struct dw_faults *faults)
{
    char aside[PATH_ROOM];
    const int needed = snprintf(aside, sizeof aside, "%s.XXXXXX", path);
    errno = ENAMETOOLONG;
    if (needed > 0 && needed < PATH_ROOM && write_aside(aside, path, bytes, length))
        return DW_DONE;
    dw_error(faults, DW_SURROUNDINGS, "not-written", path, "the file cannot be written: %s\nlook at the folder's rights and the room on the disk",
             strerror(errno));
    return DW_SURROUNDINGS;
}
