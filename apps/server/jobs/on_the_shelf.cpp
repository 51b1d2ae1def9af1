#include "server/jobs/on_the_shelf.hpp"

#include <algorithm>
#include <optional>

#include "seatwright/job/editor.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/plan/run.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

namespace {

// A fixture is judged by how it holds the head: that some figures are still made up is another matter.
bool holds_all(const std::string& text, const std::string& shop, const CastingText& castings) {
    auto job = read_with_shop(text, shop, castings);
    if (!job) return false;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    if (!run.missing(job::Stage::hold).empty()) return false;
    Notices held = run.hold();
    std::erase_if(held.warnings, [](const Warning& w) { return w.code == "not-from-you"; });
    std::erase_if(held.held_back, [](const HeldBack& h) { return h.code == HeldCode::not_from_you; });
    return !plan::blocked(held);
}

store::Answer<std::string> naming(const std::string& text, const std::string& key, const std::string& name) {
    auto named = job::set_value(text, key, job::toml_string(name));
    if (!named) return store::refuse(store::Why::bad, named.error());
    return std::move(*named);
}

}  // namespace

std::vector<std::string> names_on(const std::string& shop, const std::string& table) {
    std::vector<std::string> names;
    const auto document = job::read_text(shop);
    for (const auto& one : document.root().find(table).items())
        if (auto name = one.find("name").text()) names.push_back(std::move(*name));
    return names;
}

std::string first_fixture(const std::string& shop) {
    const auto names = names_on(shop, "fixture");
    return names.empty() ? std::string() : names.front();
}

store::Answer<std::string> on_the_shelf(const std::string& text, const std::string& shop,
                                        const std::string& machine, const CastingText& castings) {
    std::string named = text;
    const auto machines = names_on(shop, "machine");
    if (!machine.empty() || !machines.empty()) {
        auto with = naming(named, "machine", machine.empty() ? machines.front() : machine);
        if (!with) return with;
        named = std::move(*with);
    }
    std::optional<std::string> first;
    for (const auto& fixture : names_on(shop, "fixture")) {
        auto held = naming(named, "fixture", fixture);
        if (!held) return held;
        if (!first) first = *held;
        if (holds_all(*held, shop, castings)) return held;
    }
    return first.value_or(named);
}

}  // namespace seatwright::server
