/* guard.c - see guard.h. The order matters only for which refusal is named first. */
#include "guard.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool is_ours(const char *value, const char *lead, unsigned port)
{
    static const char *const names[] = {"127.0.0.1", "localhost"};
    char wanted[64];
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        (void)snprintf(wanted, sizeof wanted, "%s%s:%u", lead, names[i], port);
        if (strcmp(value, wanted) == 0)
            return true;
    }
    return false;
}

/* Equal in a time that does not depend on where they differ. */
static bool same_secret(const char *a, const char *b)
{
    const size_t length = strlen(b);
    if (strlen(a) != length)
        return false;
    unsigned different = 0;
    for (size_t i = 0; i < length; i++)
        different |= (unsigned char)a[i] ^ (unsigned char)b[i];
    return different == 0;
}

/* A plain path from our own table: begins with one slash, has no dot-dot, backslash or control character. */
static bool is_plain_path(const struct dwi_asked *asked)
{
    const char *path = asked->path;
    if (path[0] != '/' || path[1] == '/' || strstr(path, "..") != NULL)
        return false;
    for (; *path != '\0'; path++)
        if ((unsigned char)*path < 0x21 || *path == 0x7F || *path == '\\')
            return false;
    return true;
}

static bool is_json(const char *content_type)
{
    static const char wanted[] = "application/json";
    if (strncmp(content_type, wanted, sizeof wanted - 1) != 0)
        return false;
    const char *behind = content_type + sizeof wanted - 1;
    return *behind == '\0' || *behind == ';' || *behind == ' ';
}

static bool is_too_long(const char *content_length)
{
    char *end = NULL;
    const long long length = strtoll(content_length, &end, 10);
    return end == content_length || *end != '\0' || length < 0 || length > DWI_BODY_MOST;
}

/* What changes state: from our own page, as JSON, of a length that is told and bearable. */
static int guard_change(const struct dwi_door *door, const struct dwi_asked *asked)
{
    if (asked->origin == NULL || !is_ours(asked->origin, "http://", door->port))
        return 403;
    if (asked->content_type == NULL || !is_json(asked->content_type))
        return 415;
    if (asked->chunked || asked->content_length == NULL)
        return 411;
    return is_too_long(asked->content_length) ? 413 : 0;
}

int dwi_guard(const struct dwi_door *door, const struct dwi_asked *asked)
{
    const bool get = strcmp(asked->method, "GET") == 0;
    const bool change = strcmp(asked->method, "POST") == 0 || strcmp(asked->method, "PUT") == 0 || strcmp(asked->method, "DELETE") == 0;
    if (!get && !change)
        return 405;
    if (asked->doubled || !is_plain_path(asked))
        return 400;
    if (asked->host == NULL || !is_ours(asked->host, "", door->port))
        return 403;
    if (asked->origin != NULL && !is_ours(asked->origin, "http://", door->port))
        return 403;
    if (strncmp(asked->path, "/api/", 5) == 0 && (asked->token == NULL || !same_secret(asked->token, door->token)))
        return 403;
    return change ? guard_change(door, asked) : 0;
}
