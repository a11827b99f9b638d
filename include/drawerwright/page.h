/* page.h - the local page: a small server on 127.0.0.1 that shows what the library reckons.
 *
 * It serves the jobs of one folder to a browser on the same machine, and to nobody else: it listens on the loopback address only, lets nothing
 * pass without the secret of this start (which travels in the address behind #, so that it is never sent on), and knows a fixed table of paths.
 */
#ifndef DRAWERWRIGHT_PAGE_H
#define DRAWERWRIGHT_PAGE_H

#include <stdint.h>

#include <drawerwright/fault.h>

struct dw_page; /* opaque */

struct dw_page_options {
    const char *folder; /* where the job files are; drafts are kept beneath it */
    const char *job;    /* id of the job to open first; NULL: the page asks */
    unsigned port;      /* 0: a free one */
    int64_t forgotten_seconds; /* a search that no page asks after for so long is stopped; 0: 20 seconds */
};

/* Starts the server in threads of its own. DW_SURROUNDINGS with a fault when the port cannot be had or memory runs out. Freed by dw_page_stop. */
enum dw_status dw_page_start(const struct dw_page_options *options, struct dw_faults *faults, struct dw_page **started);

/* Where to point the browser, secret included. Borrowed; lives as long as the page. */
const char *dw_page_address(const struct dw_page *page);

/* Stops what is being reckoned, then the server. NULL is allowed. */
void dw_page_stop(struct dw_page *page);

#endif
