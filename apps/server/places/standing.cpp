#include "server/places/standing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "seatwright/base/sha256.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/answers/paper_files.hpp"
#include "server/jobs/selection.hpp"

namespace seatwright::server {

namespace {

std::string first_seats_of(const cut::Program& program, const job::Job& job) {
    if (program.route.part != cut::FilePart::first) return {};
    std::vector<std::string> ids;
    for (const auto& stop : program.route.stops)
        if (stop.short_cut) ids.push_back(job.head.valves.at(stop.valve).id);
    return fmt::format("{}", fmt::join(ids, ","));
}

Sentence sentence_of(store::Became became) {
    using enum store::Became;
    switch (became) {
        case arrived:
            return sentence<"arrived">();
        case failed:
            return sentence<"failed">();
        case cut:
            return sentence<"cut">();
        case not_started:
            return sentence<"not-started">();
        case stopped:
            return sentence<"stopped">();
        case removed:
            return sentence<"removed">();
        case gone:
            return sentence<"gone">();
        case read_back:
            return sentence<"read-back">();
        case differs:
            break;
    }
    return sentence<"differs">();
}

// "cut (Pat)", "failed: …": the last line of the record.
Sentence last_of(const store::Sending& sending) {
    const auto& last = sending.lines.back();
    Sentence said = sentence_of(last.became);
    if (!last.by.empty()) said = sentence<"became-by">("became"_is = std::move(said), "by"_is = last.by);
    if (!last.words.empty())
        said = sentence<"became-how">("became"_is = std::move(said), "words"_is = last.words);
    return said;
}

// What is to be done about it, or what became of it.
Sentence said_of(const store::Sending& sending, StandsAs stands) {
    if (sending.may_run() && stands == StandsAs::stale) return sentence<"old-program">();
    if (sending.open()) return sentence<"cut-off">();
    if (sending.may_run())
        return sending.temporary.empty() ? sentence<"may-run-not-read-back">() : sentence<"may-run">();
    if (!sending.to_run && sending.may_stand())
        return stands == StandsAs::stale ? sentence<"ahead-and-old">() : sentence<"ahead">();
    return last_of(sending);
}

Json place_json(const store::Sending& sending, StandsAs stands, const Speech& speech) {
    Json lines = Json::array();
    for (const auto& line : sending.lines)
        lines.push_back({{"became", store::word_of(line.became)},
                         {"words", line.words},
                         {"by", line.by},
                         {"at", store::iso_time(line.at_ms)}});
    return {{"id", sending.id},
            {"place", sending.place},
            {"file", sending.file},
            {"name", sending.name},
            {"sha256", sending.sha256},
            {"by", sending.by},
            {"at", store::iso_time(sending.at_ms)},
            {"to_run", sending.to_run},
            {"may_run", sending.may_run()},
            {"may_stand", sending.may_stand()},
            {"stands", word_of(stands)},
            {"words", in_words(said_of(sending, stands), speech)},
            {"lines", std::move(lines)}};
}

}  // namespace

std::string word_of(StandsAs stands) {
    switch (stands) {
        case StandsAs::right:
            return "right";
        case StandsAs::used_up:
            return "used up";
        case StandsAs::stale:
            return "stale";
        case StandsAs::unknown:
            break;
    }
    return "unknown";
}

std::vector<ProgramNow> programs_now(Workbench& bench, long long job, const std::string& head,
                                     const std::string& part) {
    const auto stored = bench.cache.stored(job);
    const auto computation = bench.cache.computation(stored, head, selection_of_key(part));
    std::vector<ProgramNow> all;
    if (!computation->readable() || !computation->needs(job::Stage::cut).empty()) return all;
    for (const auto& program : computation->whole().cut.programs)
        if (program.checked)
            all.push_back({program.file, program.text, sha256(program.text),
                           name_taken_along(*computation, job, program.file),
                           first_seats_of(program, computation->job())});
    return all;
}

const std::vector<ProgramNow>& Standings::now(const store::Sending& sending) {
    const std::string key = fmt::format("{}\n{}\n{}", sending.job, sending.head, sending.part);
    const auto known = known_.find(key);
    if (known != known_.end()) return known->second;
    std::vector<ProgramNow> programs;
    try {
        programs = programs_now(bench_, sending.job, sending.head, sending.part);
    } catch (const HttpError&) {
        // The job or a seat it was for is no more: nothing of it is right.
    }
    return known_.emplace(key, std::move(programs)).first->second;
}

// Each of its first seats has a reading that counts and came after the file was sent.
bool Standings::first_read_since(const store::Sending& sending) {
    if (sending.first_seats.empty()) return false;
    const auto stored = bench_.cache.stored(sending.job);
    std::istringstream in(sending.first_seats);
    for (std::string valve; std::getline(in, valve, ',');) {
        bool read = false;
        for (std::size_t i = 0; i < stored->entries.size(); ++i) {
            const auto& e = stored->entries[i];
            read = read || (e.kind == store::EntryKind::first && e.head == sending.head && e.valve == valve &&
                            e.at_ms >= sending.at_ms && stored->resolution.standing[i].live);
        }
        if (!read) return false;
    }
    return true;
}

StandsAs Standings::of(const store::Sending& sending) {
    if (bench_.recompute.is_again(sending.job)) return StandsAs::unknown;
    const auto& programs = now(sending);
    try {
        if (first_read_since(sending)) return StandsAs::used_up;
    } catch (const HttpError&) {
        return StandsAs::stale;
    }
    const bool right = std::any_of(programs.begin(), programs.end(), [&](const auto& program) {
        return program.name == sending.name && program.sha256 == sending.sha256;
    });
    return right ? StandsAs::right : StandsAs::stale;
}

Json to_json(const store::PlaceRow& place) {
    return {{"id", place.id},     {"version", place.version}, {"machine", place.machine},
            {"name", place.name}, {"kind", place.kind},       {"settings", Json::parse(place.settings)}};
}

Json sent_json(Workbench& bench, long long job, const std::string& head, const Speech& speech) {
    constexpr std::size_t latest = 20;
    auto sendings = bench.places.of_head(job, head);
    Standings standings(bench);
    Json sent = Json::array(), places = Json::array();
    bool old = false;
    for (std::size_t i = 0; i < sendings.size(); ++i) {
        const auto& one = sendings[i];
        if (!one.may_run() && !one.may_stand() && i + latest < sendings.size()) continue;
        const auto stands = one.may_run() || one.may_stand() ? standings.of(one) : StandsAs::unknown;
        old = old || (one.may_run() && stands == StandsAs::stale);
        sent.push_back(place_json(one, stands, speech));
    }
    for (const auto& row : bench.places.rows()) places.push_back(to_json(row));
    return {{"head", head},
            {"old", old ? Json(in_words(sentence<"old-program">(), speech)) : Json(nullptr)},
            {"sent", std::move(sent)},
            {"places", std::move(places)}};
}

}  // namespace seatwright::server
