/* fuzz_guard.c - whatever a request says of itself, only one from our own page passes.
 *
 * The bytes are lines: method, path, Host, Origin, Content-Type, Content-Length, token, and a last one with "d" when a header came twice and "c"
 * when the body comes in chunks. A line "-" is a header that is missing. What passes is held to the rules of guard.h by plain means.
 */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "page/guard.h"

enum { LINES = 8, ROOM = 4096 };

static const struct dwi_door door = {.port = 8642, .token = "0123456789abcdef"};

static bool is_one_of(const char *value, const char *first, const char *second)
{
    return value != NULL && (strcmp(value, first) == 0 || strcmp(value, second) == 0);
}

/* Breaks of the promise of a request that was let pass. */
static void check_passed(const struct dwi_asked *asked)
{
    const bool reads = strcmp(asked->method, "GET") == 0;
    if (!is_one_of(asked->host, "127.0.0.1:8642", "localhost:8642") || asked->doubled)
        abort();
    if (asked->path[0] != '/' || strstr(asked->path, "..") != NULL)
        abort();
    if (strncmp(asked->path, "/api/", 5) == 0 && (asked->token == NULL || strcmp(asked->token, door.token) != 0))
        abort();
    if (!reads && !is_one_of(asked->origin, "http://127.0.0.1:8642", "http://localhost:8642"))
        abort();
    if (!reads && (asked->content_type == NULL || strncmp(asked->content_type, "application/json", 16) != 0))
        abort();
    if (!reads && (asked->chunked || asked->content_length == NULL || strtoll(asked->content_length, NULL, 10) > DWI_BODY_MOST))
        abort();
}

/* Cuts text[0..length) into lines, each ended by a NUL; empty ones past the last. */
static void cut_lines(char *text, size_t length, char *lines[LINES])
{
    char *const end = text + length;
    char *at = text;
    for (size_t i = 0; i < LINES; i++) {
        char *stop = memchr(at, '\n', (size_t)(end - at));
        stop = stop == NULL ? end : stop;
        *stop = '\0';
        lines[i] = at;
        at = stop < end ? stop + 1 : end;
    }
}

int fuzz_guard(const uint8_t *data, size_t size)
{
    char text[ROOM];
    char *lines[LINES];
    const size_t length = size < sizeof text - 1 ? size : sizeof text - 1;
    if (length > 0)
        memcpy(text, data, length);
    cut_lines(text, length, lines);
    const char *headers[LINES];
    for (size_t i = 0; i < LINES; i++)
        headers[i] = strcmp(lines[i], "-") == 0 ? NULL : lines[i];
    const struct dwi_asked asked = {
        .method = lines[0], .path = lines[1], .host = headers[2], .origin = headers[3], .content_type = headers[4],
        .content_length = headers[5], .token = headers[6],
        .doubled = strchr(lines[7], 'd') != NULL, .chunked = strchr(lines[7], 'c') != NULL,
    };
    const int status = dwi_guard(&door, &asked);
    if (status != 0 && (status < 400 || status > 499))
        abort();
    if (status == 0)
        check_passed(&asked);
    return 0;
}
