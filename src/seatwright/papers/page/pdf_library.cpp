#include "seatwright/papers/page/pdf_library.hpp"

#include <dlfcn.h>
#include <fmt/format.h>

namespace seatwright::papers {

namespace {

// Takes functions out of an opened library and notes the first that is not there.
class Taker {
  public:
    explicit Taker(void* library) : library_(library) {}
    template <class Function>
    void take(const char* name, Function*& into) {
        into = reinterpret_cast<Function*>(dlsym(library_, name));
        if (into == nullptr && missing_ == nullptr) missing_ = name;
    }
    const char* missing() const { return missing_; }

  private:
    void* library_;
    const char* missing_ = nullptr;
};

}  // namespace

tl::expected<PdfLibrary, std::string> open_pdf_library(const char* name) {
    void* library = dlopen(name, RTLD_LAZY | RTLD_LOCAL);
    if (library == nullptr)
        return tl::unexpected(fmt::format(
            "pages need librsvg, which cannot be opened ({}); Debian has it as librsvg2-2", dlerror()));
    PdfLibrary f{};
    Taker taker(library);
    taker.take("rsvg_handle_new_from_data", f.rsvg_handle_new_from_data);
    taker.take("rsvg_handle_render_document", f.rsvg_handle_render_document);
    taker.take("g_object_unref", f.g_object_unref);
    taker.take("g_error_free", f.g_error_free);
    taker.take("cairo_create", f.cairo_create);
    taker.take("cairo_destroy", f.cairo_destroy);
    taker.take("cairo_show_page", f.cairo_show_page);
    taker.take("cairo_status_to_string", f.cairo_status_to_string);
    taker.take("cairo_pdf_surface_create_for_stream", f.cairo_pdf_surface_create_for_stream);
    taker.take("cairo_pdf_surface_set_metadata", f.cairo_pdf_surface_set_metadata);
    taker.take("cairo_surface_destroy", f.cairo_surface_destroy);
    taker.take("cairo_surface_finish", f.cairo_surface_finish);
    taker.take("cairo_surface_status", f.cairo_surface_status);
    if (taker.missing() != nullptr)
        return tl::unexpected(fmt::format("pages need {}, which {} does not have; 2.54 of librsvg does",
                                          taker.missing(), name));
    return f;
}

const tl::expected<PdfLibrary, std::string>& pdf_library() {
    static const auto library = open_pdf_library();
    return library;
}

}  // namespace seatwright::papers
