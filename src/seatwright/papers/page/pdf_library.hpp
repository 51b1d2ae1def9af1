// librsvg and Cairo, opened when the first page is drawn: some fifty libraries come with them, most of what
// starting the program would cost, and most commands draw no page.
#pragma once

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

#include <string>

#include "seatwright/base/fault.hpp"

namespace seatwright::papers {

// Their functions under their own names, as their headers declare them.
struct PdfLibrary {
    decltype(&::rsvg_handle_new_from_data) rsvg_handle_new_from_data;
    decltype(&::rsvg_handle_render_document) rsvg_handle_render_document;
    decltype(&::g_object_unref) g_object_unref;
    decltype(&::g_error_free) g_error_free;
    decltype(&::cairo_create) cairo_create;
    decltype(&::cairo_destroy) cairo_destroy;
    decltype(&::cairo_show_page) cairo_show_page;
    decltype(&::cairo_status_to_string) cairo_status_to_string;
    decltype(&::cairo_pdf_surface_create_for_stream) cairo_pdf_surface_create_for_stream;
    decltype(&::cairo_pdf_surface_set_metadata) cairo_pdf_surface_set_metadata;
    decltype(&::cairo_surface_destroy) cairo_surface_destroy;
    decltype(&::cairo_surface_finish) cairo_surface_finish;
    decltype(&::cairo_surface_status) cairo_surface_status;
};

// The name librsvg's second interface goes by; Cairo and GLib come with it.
inline constexpr const char* rsvg_library = "librsvg-2.so.2";

// Error: a sentence that says which library is missing, or lacks what.
tl::expected<PdfLibrary, std::string> open_pdf_library(const char* name = rsvg_library);

// Opened once and kept; thread-safe.
const tl::expected<PdfLibrary, std::string>& pdf_library();

}  // namespace seatwright::papers
