#include "seatwright/job/editor.hpp"

#include "seatwright/job/text.hpp"

namespace seatwright::job {
namespace {

Edited text_of(toml::Edited edited) {
    if (!edited) return tl::unexpected(std::move(edited.error()));
    return edited->text();
}

}  // namespace

Edited set_value(std::string_view text, std::string_view path, std::string_view literal) {
    return text_of(toml::set_value(read_text(std::string(text)), path, literal));
}

Edited append_table(std::string_view text, std::string_view path, const Fields& fields) {
    return text_of(toml::append_table(read_text(std::string(text)), path, fields));
}

Edited remove_value(std::string_view text, std::string_view path) {
    return text_of(toml::remove_value(read_text(std::string(text)), path));
}

}  // namespace seatwright::job
