#include "server/other_servers.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/surveys.hpp"
#include "server/answers/store_json.hpp"

namespace seatwright::server {

namespace {

// Another database may stand in its place, a standby or an older copy.
void look_for_what_is_missing(store::Database& database) {
    auto& last = database.last();
    last.look_again(database);
    for (const auto& found : {last.behind(), last.other()})
        for (const auto& [job, words] : found) spdlog::error(fmt::format("damaged: {}", words));
}

}  // namespace

OtherServers::OtherServers(Workbench& bench)
    : bench_(bench),
      news_(bench.database, {[this](const auto& lines) { written(lines); },
                             [this] {
                                 spdlog::warn("the database was away for a while: everything is read anew");
                                 look_for_what_is_missing(bench_.database);
                                 bench_.events.resync();
                             }}) {}

void OtherServers::written(const std::vector<store::LedgerLine>& lines) {
    for (const auto& line : lines)
        if (line.job) tell(line);
    if (std::any_of(lines.begin(), lines.end(), [](const auto& line) { return !line.job; }))
        tell_of_shop(lines);
}

void OtherServers::tell(const store::LedgerLine& line) {
    const long long job = *line.job;
    try {
        if (line.entry) {
            if (const auto entry = bench_.entries.one(job, *line.entry)) {
                bench_.database.last().note(job, entry->sequence, entry->digest);
                bench_.publish(job, "entry", to_json(*entry));
            }
        } else if (line.version) {
            bench_.publish(job, "version", {{"version", *line.version}});
        } else if (const auto row = bench_.jobs.row(job)) {
            bench_.publish(job, "archived", {{"archived", row->archived}});
        }
    } catch (const store::Damaged& damaged) {
        spdlog::error(fmt::format("job {}: {}", job, damaged.what()));
    }
}

// People, the shelf, castings, surveys: their pages ask anew.
void OtherServers::tell_of_shop(const std::vector<store::LedgerLine>& lines) {
    bench_.end_streams_logged_out();
    if (std::any_of(lines.begin(), lines.end(),
                    [](const auto& line) { return line.what.ends_with(store::another_name); })) {
        bench_.cache.names_changed();
        bench_.events.resync();
    }
    bench_.events.publish(0, "shelf", Json{{"version", bench_.shelf.current().number}}.dump());
    bench_.events.publish(0, "castings", "{}");
    for (const auto& survey : store::Surveys(bench_.database).rows())
        if (survey.changed_ms >= lines.front().at_ms)
            bench_.events.publish(0, "survey", Json{{"survey", survey.id}}.dump());
}

}  // namespace seatwright::server
