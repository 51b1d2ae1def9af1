#include "server/places/record.hpp"

#include <algorithm>

#include "seatwright/job/file_names.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/places/standing.hpp"

namespace seatwright::server {

namespace {

using store::Became;

bool same_file(const store::Sending& sending, const place::Held& held) {
    return sending.sha256 == held.sha256 && job::without_case(sending.name) == job::without_case(held.name);
}

bool among(const std::vector<place::Held>& all, const store::Sending& sending) {
    return std::any_of(all.begin(), all.end(), [&](const auto& one) { return same_file(sending, one); });
}

}  // namespace

PlaceRecord record_of_place(Workbench& bench, long long place) {
    PlaceRecord record;
    record.sendings = bench.places.at_place(place);
    Standings standings(bench);
    for (const auto& one : record.sendings) {
        if (one.open() && !one.temporary.empty()) record.begun.push_back({one.temporary, one.bytes});
        // What cannot be told now stays.
        const bool right = one.may_stand() &&
                           (standings.of(one) == StandsAs::right || standings.of(one) == StandsAs::unknown);
        const auto at = std::find_if(record.held.begin(), record.held.end(),
                                     [&](const auto& held) { return same_file(one, held); });
        if (at == record.held.end()) {
            record.held.push_back({one.name, one.sha256, one.may_run(), right});
            continue;
        }
        at->may_run = at->may_run || one.may_run();
        at->right = at->right || right;
    }
    return record;
}

void note_visit(Workbench& bench, const PlaceRecord& record, const place::Sending& visit,
                const Speech& speech) {
    if (!visit.looked) return;
    for (const auto& one : record.sendings) {
        const auto note = [&](Became became, const Sentence& how) {
            bench.places.note({}, one.id, became, in_words(how, speech));
        };
        const bool gone = among(visit.gone, one), removed = among(visit.removed, one);
        if (one.open()) {
            // Cut off: it arrived, or it did not.
            const bool cleared =
                std::find(visit.cleared.begin(), visit.cleared.end(), one.temporary) != visit.cleared.end();
            if (!gone)
                note(Became::arrived, sentence<"found-whole">());
            else if (cleared)
                note(Became::failed, sentence<"found-nothing">());
        }
        if (removed && one.may_stand())
            note(Became::removed, sentence<"no-longer-right">());
        else if (gone && !one.open() && one.may_stand())
            note(Became::gone, sentence<"no-longer-there">());
    }
}

std::string running_there(const PlaceRecord& record, const std::string& name, const std::string& sha256) {
    for (const auto& one : record.sendings) {
        const bool over_a_line = one.temporary.empty();
        const bool other =
            over_a_line || (job::without_case(one.name) == job::without_case(name) && one.sha256 != sha256);
        if (one.may_run() && other) return one.name;
    }
    return {};
}

}  // namespace seatwright::server
