/* guard.h - may this request pass? A pure function over what a request says of itself, so that a table of rows can test it without a socket.
 *
 * The page is for the maker at this machine. Another site open in the same browser must not be able to read or change anything, whatever it
 * sends: so the host must be ours by name and port (a rebound name is not), anything under /api/ needs the token of this start, and what changes state
 * must come from our own page (Origin) as JSON (which another site cannot send without asking first, and is never granted).
 */
#ifndef DWI_PAGE_GUARD_H
#define DWI_PAGE_GUARD_H

#include <stdbool.h>
#include <stddef.h>

enum { DWI_BODY_MOST = 4 << 20 }; /* bytes of a request's body */

/* What a request says. A header that is missing is NULL; `doubled` when Host, Origin, Content-Length, Content-Type or the token came more than once. */
struct dwi_asked {
    const char *method;
    const char *path; /* as decoded; a %00 in it has become a control character */
    const char *host;
    const char *origin;
    const char *content_type;
    const char *content_length;
    const char *token;
    bool doubled;
    bool chunked;
};

/* Where the page listens and the secret of this start. */
struct dwi_door {
    unsigned port;
    const char *token;
};

/* The HTTP status to refuse with, or 0: let it pass. */
int dwi_guard(const struct dwi_door *door, const struct dwi_asked *asked);

#endif
