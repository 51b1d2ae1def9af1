#include "seatwright/papers/pdf.hpp"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <librsvg/rsvg.h>

#include <memory>

namespace seatwright::papers {

namespace {

constexpr double points_per_mm = 72.0 / 25.4;

struct Release {
    void operator()(RsvgHandle* p) const { g_object_unref(p); }
    void operator()(cairo_t* p) const { cairo_destroy(p); }
    void operator()(cairo_surface_t* p) const { cairo_surface_destroy(p); }
};
using Handle = std::unique_ptr<RsvgHandle, Release>;
using Context = std::unique_ptr<cairo_t, Release>;
using Surface = std::unique_ptr<cairo_surface_t, Release>;

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

tl::expected<Handle, std::string> parsed(const std::string& svg) {
    GError* error = nullptr;
    Handle handle(rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error));
    if (handle) return handle;
    std::string why = error ? error->message : "unknown reason";
    if (error) g_error_free(error);
    return tl::unexpected("the drawing cannot be read as SVG: " + why);
}

tl::expected<void, std::string> drawn(RsvgHandle* handle, cairo_t* context, double width, double height) {
    const RsvgRectangle area{0, 0, width, height};
    GError* error = nullptr;
    if (rsvg_handle_render_document(handle, context, &area, &error)) return {};
    std::string why = error ? error->message : "unknown reason";
    if (error) g_error_free(error);
    return tl::unexpected("the drawing cannot be rendered: " + why);
}

}  // namespace

tl::expected<std::string, std::string> pdf_of(const std::vector<std::string>& svg_pages, PaperSize paper,
                                              const std::string& title) {
    std::string out;
    const double width = paper.width_mm * points_per_mm, height = paper.height_mm * points_per_mm;
    Surface surface(cairo_pdf_surface_create_for_stream(append, &out, width, height));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    // A fixed date: the same plan gives the same bytes.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    Context context(cairo_create(surface.get()));
    for (const auto& page : svg_pages) {
        auto handle = parsed(page);
        if (!handle) return tl::unexpected(handle.error());
        if (auto done = drawn(handle->get(), context.get(), width, height); !done)
            return tl::unexpected(done.error());
        cairo_show_page(context.get());
    }
    context.reset();
    cairo_surface_finish(surface.get());
    if (const auto status = cairo_surface_status(surface.get()); status != CAIRO_STATUS_SUCCESS)
        return tl::unexpected(std::string("the PDF cannot be made: ") + cairo_status_to_string(status));
    return out;
}

tl::expected<std::string, std::string> png_of(const std::string& svg, int width_px) {
    auto handle = parsed(svg);
    if (!handle) return tl::unexpected(handle.error());
    gboolean has_width = FALSE, has_height = FALSE, has_box = FALSE;
    RsvgLength width{}, height{};
    RsvgRectangle box{};
    rsvg_handle_get_intrinsic_dimensions(handle->get(), &has_width, &width, &has_height, &height, &has_box,
                                         &box);
    if (!has_box || box.width <= 0) return tl::unexpected(std::string("the drawing has no view box"));
    const double w = width_px, h = w * box.height / box.width;
    Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, static_cast<int>(h + 0.5)));
    Context context(cairo_create(surface.get()));
    cairo_set_source_rgb(context.get(), 1, 1, 1);
    cairo_paint(context.get());
    if (auto done = drawn(handle->get(), context.get(), w, h); !done) return tl::unexpected(done.error());
    std::string out;
    cairo_surface_write_to_png_stream(surface.get(), append, &out);
    return out;
}

}  // namespace seatwright::papers
