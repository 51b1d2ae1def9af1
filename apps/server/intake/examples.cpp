#include "server/intake/examples.hpp"

#include "seatwright/job/text.hpp"
#include "server/http/embedded.hpp"

namespace seatwright::server {

namespace {

std::string title_of(const std::string& text, const std::string& otherwise) {
    return job::read_text(text).root().find("title").text().value_or(otherwise);
}

}  // namespace

const std::vector<Example>& examples() {
    static const std::vector<Example> all = [] {
        constexpr std::string_view folder = "examples/", file = "/job.toml";
        std::vector<Example> found;
        for (const auto& embedded : embedded_files()) {
            if (!embedded.name.starts_with(folder) || !embedded.name.ends_with(file)) continue;
            const std::string name(
                embedded.name.substr(folder.size(), embedded.name.size() - folder.size() - file.size()));
            const std::string text(embedded.bytes);
            found.push_back({name, title_of(text, name), text});
        }
        return found;
    }();
    return all;
}

std::optional<Example> example_named(const std::string& name) {
    for (const auto& example : examples())
        if (example.name == name) return example;
    return std::nullopt;
}

const std::string& default_shop() {
    static const std::string text = [] {
        for (const auto& embedded : embedded_files())
            if (embedded.name == "shop/shop.toml") return std::string(embedded.bytes);
        return std::string("units = \"mm\"\n");
    }();
    return text;
}

}  // namespace seatwright::server
