#include "server/places/sending.hpp"

#include <algorithm>
#include <charconv>
#include <set>

#include "seatwright/place/termios_line.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/answers/issued.hpp"
#include "server/answers/job_state.hpp"
#include "server/places/record.hpp"
#include "server/places/settings.hpp"
#include "server/places/standing.hpp"

namespace seatwright::server {

namespace {

using store::Became;
using store::Why;

std::string new_temporary() {
    unsigned chance = 0;
    const std::string hex = store::random_hex(3);
    std::from_chars(hex.data(), hex.data() + hex.size(), chance, 16);
    return place::temporary_name(chance);
}

std::vector<ProgramNow> wanted_programs(Workbench& bench, const WantedSending& wanted) {
    if (wanted.files.empty()) throw http_error(400, "which files are to be sent?");
    if (bench.recompute.is_again(wanted.job))
        throw http_error(409, in_words(no_file_until_worked_out(), wanted.speech));
    const auto now = programs_now(bench, wanted.job, wanted.head, wanted.part);
    std::vector<ProgramNow> programs;
    for (const auto& file : wanted.files) {
        const auto at =
            std::find_if(now.begin(), now.end(), [&](const auto& one) { return one.file == file; });
        if (at == now.end())
            throw http_error(422, in_words(sentence<"not-among-programs">("file"_is = file), wanted.speech));
        programs.push_back(*at);
    }
    return programs;
}

void check_running(const PlaceRecord& record, const std::vector<ProgramNow>& programs, const Speech& speech) {
    for (const auto& program : programs)
        if (const auto name = running_there(record, program.name, program.sha256); !name.empty())
            throw http_error(409, in_words(sentence<"running-there">("file"_is = name), speech));
}

store::Sending begin_sending(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                             const ProgramNow& program, const std::string& temporary) {
    store::NewSending sending;
    sending.place = wanted.place;
    sending.job = wanted.job;
    sending.head = wanted.head;
    sending.file = program.file;
    sending.name = program.name;
    sending.temporary = temporary;
    sending.bytes = program.bytes;
    sending.sha256 = program.sha256;
    sending.part = wanted.part;
    sending.first_seats = program.first_seats;
    sending.to_run = wanted.to_run;
    issue_program(bench, by, {wanted.job, wanted.head, wanted.part}, program.file, program.bytes);
    bench.taken.note(by, wanted.job, program.file, program.sha256);
    return bench.places.begin(by, sending);
}

// Says nothing: all of them arrived.
Sentence into_folder(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                     const place::Folder& folder, const std::vector<ProgramNow>& programs) {
    const PlaceRecord before = record_of_place(bench, wanted.place);
    check_running(before, programs, wanted.speech);
    std::vector<place::ToSend> files;
    std::vector<long long> ids;
    for (const auto& program : programs) {
        files.push_back({program.name, program.bytes, new_temporary()});
        ids.push_back(begin_sending(bench, by, wanted, program, files.back().temporary).id);
    }
    place::Calls calls;
    const auto visit = place::send(calls, folder, before.held, before.begun, files);
    note_visit(bench, before, visit, wanted.speech);
    for (std::size_t i = 0; i < files.size(); ++i) {
        const auto at = std::find_if(visit.sent.begin(), visit.sent.end(),
                                     [&](const auto& one) { return one.name == files[i].name; });
        if (at != visit.sent.end())
            bench.places.note(
                {}, ids[i], Became::arrived,
                at->was_there ? in_words(sentence<"there-already">(), wanted.speech) : std::string());
        else if (!visit.left)
            bench.places.note({}, ids[i], Became::failed, in_words(visit.stopped, wanted.speech));
        // Else it stays open: the next visit finds out.
    }
    if (visit.stopped.empty()) return {};
    std::vector<Sentence> all{visit.stopped};
    all.insert(all.end(), visit.notes.begin(), visit.notes.end());
    return clauses(std::move(all));
}

Sentence over_line(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                   const LinePlace& settings, const std::vector<ProgramNow>& programs, TaskReport& report) {
    const PlaceRecord before = record_of_place(bench, wanted.place);
    check_running(before, programs, wanted.speech);
    auto line = place::open_line(settings.device, settings.line);
    if (!line) return sentence<"nothing-sent">("why"_is = line.error());
    for (std::size_t i = 0; i < programs.size(); ++i) {
        const auto& program = programs[i];
        const auto ended = [&] {
            return !report.progress(i, programs.size(),
                                    in_words(sentence<"sending">("file"_is = program.name), wanted.speech));
        };
        const auto id = begin_sending(bench, by, wanted, program, "").id;
        const auto done = place::send(**line, program.bytes, settings.ways, ended);
        if (done.whole) {
            bench.places.note({}, id, Became::arrived,
                              in_words(sentence<"bytes-out">("bytes"_is = done.bytes), wanted.speech));
            continue;
        }
        // Where nothing went out nothing can run.
        bench.places.note({}, id, Became::failed, in_words(done.stopped, wanted.speech));
        return done.stopped;
    }
    return {};
}

store::PlaceRow place_row(Workbench& bench, long long id) {
    auto row = bench.places.row(id);
    if (!row || row->put_away) throw http_error(404, "there is no such place");
    return *row;
}

std::shared_ptr<void> one_at_a_time(Workbench& bench, long long place, const Speech& speech) {
    auto turn = bench.sending.take(place);
    if (!turn) throw http_error(409, in_words(sentence<"being-sent">(), speech));
    return turn;
}

template <class Visit>
std::vector<Sentence> visit(Workbench& bench, const store::PlaceRow& row, const Speech& speech,
                            const Visit& how) {
    const auto turn = one_at_a_time(bench, row.id, speech);
    const auto settings = settings_of(row);
    const auto* folder = std::get_if<place::Folder>(&settings);
    if (folder == nullptr) throw http_error(422, in_words(sentence<"not-looked-at">(), speech));
    const PlaceRecord record = record_of_place(bench, row.id);
    place::Calls calls;
    const place::Sending seen = how(calls, *folder, record);
    if (!seen.stopped.empty()) throw http_error(422, in_words(seen.stopped, speech));
    note_visit(bench, record, seen, speech);
    std::set<long long> jobs;
    for (const auto& one : record.sendings) jobs.insert(one.job);
    for (const long long job : jobs) tell_of_places(bench, job);
    return seen.notes;
}

}  // namespace

void tell_of_places(Workbench& bench, long long job) {
    bench.events.publish(job, "sent", Json{{"job", job}}.dump());
    bench.events.publish(0, "places", "{}");
}

void check_sending(Workbench& bench, const WantedSending& wanted) {
    if (place_row(bench, wanted.place).kind == "line" && !wanted.to_run)
        throw http_error(422, in_words(sentence<"not-ahead">(), wanted.speech));
    check_running(record_of_place(bench, wanted.place), wanted_programs(bench, wanted), wanted.speech);
}

store::Answer<long long> send_programs(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                                       TaskReport& report) {
    std::string stopped;
    try {
        const auto turn = one_at_a_time(bench, wanted.place, wanted.speech);
        const auto settings = settings_of(place_row(bench, wanted.place));
        const auto programs = wanted_programs(bench, wanted);
        const auto* folder = std::get_if<place::Folder>(&settings);
        const Sentence why =
            folder != nullptr ? into_folder(bench, by, wanted, *folder, programs)
                              : over_line(bench, by, wanted, std::get<LinePlace>(settings), programs, report);
        stopped = in_words(why, wanted.speech);
    } catch (const HttpError& refused) {
        stopped = refused.body.value("error", std::string());
    }
    tell_of_places(bench, wanted.job);
    if (!stopped.empty()) return store::refuse(Why::bad, stopped);
    return wanted.job;
}

std::vector<Sentence> look_at_place(Workbench& bench, const store::PlaceRow& place, const Speech& speech) {
    return visit(bench, place, speech,
                 [](place::Calls& calls, const place::Folder& folder, const PlaceRecord& record) {
                     return place::look(calls, folder, record.held);
                 });
}

std::vector<Sentence> clear_place(Workbench& bench, const store::PlaceRow& place, const Speech& speech) {
    return visit(bench, place, speech,
                 [](place::Calls& calls, const place::Folder& folder, const PlaceRecord& record) {
                     return place::clear(calls, folder, record.held, record.begun);
                 });
}

store::Answer<long long> read_back(Workbench& bench, const store::Person& by, long long id,
                                   const Speech& speech, TaskReport& report) {
    const auto sending = bench.places.sending(id);
    if (!sending) return store::refuse(Why::not_found, "there is no such sending");
    try {
        const auto turn = one_at_a_time(bench, sending->place, speech);
        const auto settings = settings_of(place_row(bench, sending->place));
        const auto* over = std::get_if<LinePlace>(&settings);
        if (over == nullptr)
            return store::refuse(Why::bad, in_words(sentence<"folder-not-read-back">(), speech));
        const auto line = place::open_line(over->device, over->line);
        if (!line) return store::refuse(Why::bad, in_words(line.error(), speech));
        const auto back = place::read_back(**line, sending->bytes, over->ways, [&] {
            return !report.progress(0, 1, in_words(sentence<"waiting-for-control">(), speech));
        });
        // Nothing that came says nothing of what the control holds.
        if (back.agrees || back.came)
            bench.places.note(by, id, back.agrees ? Became::read_back : Became::differs,
                              in_words(back.words, speech));
        tell_of_places(bench, sending->job);
        if (!back.agrees) return store::refuse(Why::bad, in_words(back.words, speech));
    } catch (const HttpError& refused) {
        return store::refuse(Why::bad, refused.body.value("error", std::string()));
    }
    return sending->job;
}

}  // namespace seatwright::server
