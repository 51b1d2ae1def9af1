#include "seatwright/papers/page/pdf.hpp"

#include <fmt/format.h>

#include <memory>

#include "seatwright/papers/page/pdf_library.hpp"

namespace seatwright::papers {

namespace {

constexpr double points_per_mm = 72.0 / 25.4;

struct Release {
    const PdfLibrary* library;
    void operator()(RsvgHandle* p) const { library->g_object_unref(p); }
    void operator()(cairo_t* p) const { library->cairo_destroy(p); }
    void operator()(cairo_surface_t* p) const { library->cairo_surface_destroy(p); }
};
using Handle = std::unique_ptr<RsvgHandle, Release>;
using Context = std::unique_ptr<cairo_t, Release>;
using Surface = std::unique_ptr<cairo_surface_t, Release>;

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

std::string taken(const PdfLibrary& library, GError* error) {
    if (error == nullptr) return "unknown reason";
    std::string why = error->message;
    library.g_error_free(error);
    return why;
}

tl::expected<Handle, std::string> parsed(const PdfLibrary& library, const std::string& svg) {
    GError* error = nullptr;
    const auto* bytes = reinterpret_cast<const guint8*>(svg.data());
    Handle handle(library.rsvg_handle_new_from_data(bytes, svg.size(), &error), Release{&library});
    if (handle) return handle;
    return tl::unexpected("the drawing cannot be read as SVG: " + taken(library, error));
}

tl::expected<void, std::string> drawn(const PdfLibrary& library, RsvgHandle* handle, cairo_t* context,
                                      double width, double height) {
    const RsvgRectangle area{0, 0, width, height};
    GError* error = nullptr;
    if (library.rsvg_handle_render_document(handle, context, &area, &error)) return {};
    return tl::unexpected("the drawing cannot be rendered: " + taken(library, error));
}

}  // namespace

tl::expected<std::string, std::string> pdf_of(const std::vector<std::string>& svg_pages, PaperSize paper,
                                              const std::string& title) {
    if (!pdf_library()) return tl::unexpected(pdf_library().error());
    const PdfLibrary& library = *pdf_library();
    const Release release{&library};
    std::string out;
    const double width = paper.width_mm * points_per_mm, height = paper.height_mm * points_per_mm;
    const Surface surface(library.cairo_pdf_surface_create_for_stream(append, &out, width, height), release);
    library.cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    // A fixed date: the same plan gives the same bytes.
    library.cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                           "2000-01-01T00:00:00Z");
    Context context(library.cairo_create(surface.get()), release);
    for (const auto& page : svg_pages) {
        auto handle = parsed(library, page);
        if (!handle) return tl::unexpected(handle.error());
        if (auto done = drawn(library, handle->get(), context.get(), width, height); !done)
            return tl::unexpected(done.error());
        library.cairo_show_page(context.get());
    }
    context.reset();
    library.cairo_surface_finish(surface.get());
    if (const auto status = library.cairo_surface_status(surface.get()); status != CAIRO_STATUS_SUCCESS)
        return tl::unexpected(std::string("the PDF cannot be made: ") +
                              library.cairo_status_to_string(status));
    return out;
}

}  // namespace seatwright::papers
