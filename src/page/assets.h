/* assets.h - the page's own files, built into the program. assets.c is made by .cmake/embed.cmake from src/page/web/. */
#ifndef DWI_PAGE_ASSETS_H
#define DWI_PAGE_ASSETS_H

#include <stddef.h>

struct dwi_asset {
    const char *path; /* "/", "/page.js"; NULL ends the table */
    const char *type;
    const unsigned char *bytes;
    size_t length;
};

extern const struct dwi_asset dwi_assets[];

#endif
