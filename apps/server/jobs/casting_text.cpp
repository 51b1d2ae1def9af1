#include "server/jobs/casting_text.hpp"

#include <fmt/format.h>

#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::server {

namespace {

std::string from_line(const std::string& title) {
    return "\nfrom = " + job::toml_string(title) + "\n";
}

void rename_job(std::string& text, const std::string& from, const std::string& to) {
    const std::string old = from_line(from), now = from_line(to);
    for (auto at = text.find(old); at != std::string::npos; at = text.find(old, at + now.size() - 1))
        text.replace(at, old.size(), now);
}

}  // namespace

std::string known_as(const std::string& title, long long job) {
    return fmt::format("{} (no. {})", title, job);
}

std::string another_called(const std::string& title) {
    return title + " (another)";
}

std::string as_read_by(std::string casting_text, const std::string& title, long long job) {
    rename_job(casting_text, title, another_called(title));
    rename_job(casting_text, known_as(title, job), title);
    return casting_text;
}

std::shared_ptr<const ReadVersion> read_version(const StoredJob& stored, const CastingText& castings) {
    const auto text = job::read_text(stored.version.text);
    std::optional<std::string> casting_text;
    if (const auto casting = text.root().find("casting").text()) casting_text = castings(*casting);
    if (casting_text)
        casting_text = as_read_by(std::move(*casting_text), text.root().find("title").text().value_or(""),
                                  stored.row.id);
    const auto fetch = fetch_of(text, stored.shop_text, [&](const std::string&) { return casting_text; });
    auto read = job::read_job(text, job_file_name, fetch);
    return std::make_shared<const ReadVersion>(ReadVersion{text, std::move(casting_text), std::move(read)});
}

}  // namespace seatwright::server
