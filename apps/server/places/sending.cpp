#include "server/places/sending.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

#include "seatwright/place/termios_line.hpp"
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
        throw http_error(409, fmt::format("{} No file is given out before that is done.", being_worked_out));
    const auto now = programs_now(bench, wanted.job, wanted.head, wanted.part);
    std::vector<ProgramNow> programs;
    for (const auto& file : wanted.files) {
        const auto at =
            std::find_if(now.begin(), now.end(), [&](const auto& one) { return one.file == file; });
        if (at == now.end())
            throw http_error(
                422, fmt::format("{} is not among the programs that may run now: only those are sent", file));
        programs.push_back(*at);
    }
    return programs;
}

void check_running(const PlaceRecord& record, const std::vector<ProgramNow>& programs) {
    for (const auto& program : programs)
        if (const auto name = running_there(record, program.name, program.sha256); !name.empty())
            throw http_error(409,
                             fmt::format("{} was sent there to be run and may be running: say \"cut\", \"not "
                                         "started\" or \"stopped\" first; nothing was sent",
                                         name));
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

std::string into_folder(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                        const place::Folder& folder, const std::vector<ProgramNow>& programs) {
    const PlaceRecord before = record_of_place(bench, wanted.place);
    check_running(before, programs);
    std::vector<place::ToSend> files;
    std::vector<long long> ids;
    for (const auto& program : programs) {
        files.push_back({program.name, program.bytes, new_temporary()});
        ids.push_back(begin_sending(bench, by, wanted, program, files.back().temporary).id);
    }
    place::Calls calls;
    const auto visit = place::send(calls, folder, before.held, before.begun, files);
    note_visit(bench, before, visit);
    for (std::size_t i = 0; i < files.size(); ++i) {
        const auto at = std::find_if(visit.sent.begin(), visit.sent.end(),
                                     [&](const auto& one) { return one.name == files[i].name; });
        if (at != visit.sent.end())
            bench.places.note({}, ids[i], Became::arrived,
                              at->was_there ? "it stood there already, byte for byte" : "");
        else if (!visit.left)
            bench.places.note({}, ids[i], Became::failed, visit.stopped);
        // Else it stays open: the next visit finds out.
    }
    std::string words = visit.stopped;
    for (const auto& note : visit.notes) words += (words.empty() ? "" : "; ") + note;
    return visit.stopped.empty() ? "" : words;
}

std::string over_line(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                      const LinePlace& settings, const std::vector<ProgramNow>& programs,
                      TaskReport& report) {
    const PlaceRecord before = record_of_place(bench, wanted.place);
    check_running(before, programs);
    auto line = place::open_line(settings.device, settings.line);
    if (!line) return line.error() + "; nothing was sent";
    for (std::size_t i = 0; i < programs.size(); ++i) {
        const auto& program = programs[i];
        const auto ended = [&] {
            return !report.progress(i, programs.size(), fmt::format("sending {}", program.name));
        };
        const auto id = begin_sending(bench, by, wanted, program, "").id;
        const auto done = place::send(**line, program.bytes, settings.ways, ended);
        if (done.whole) {
            bench.places.note({}, id, Became::arrived,
                              fmt::format("{} bytes went out; not read back", done.bytes));
            continue;
        }
        // Where nothing went out nothing can run.
        bench.places.note({}, id, Became::failed, done.stopped);
        return done.stopped;
    }
    return {};
}

store::PlaceRow place_row(Workbench& bench, long long id) {
    auto row = bench.places.row(id);
    if (!row || row->put_away) throw http_error(404, "there is no such place");
    return *row;
}

std::shared_ptr<void> one_at_a_time(Workbench& bench, long long place) {
    auto turn = bench.sending.take(place);
    if (!turn) throw http_error(409, "something is being sent to this place just now: wait for it");
    return turn;
}

template <class Visit>
std::vector<std::string> visit(Workbench& bench, const store::PlaceRow& row, const Visit& how) {
    const auto turn = one_at_a_time(bench, row.id);
    const auto settings = settings_of(row);
    const auto* folder = std::get_if<place::Folder>(&settings);
    if (folder == nullptr)
        throw http_error(422, "what a control has in its memory cannot be looked at over its line");
    const PlaceRecord record = record_of_place(bench, row.id);
    place::Calls calls;
    const place::Sending seen = how(calls, *folder, record);
    if (!seen.stopped.empty()) throw http_error(422, seen.stopped);
    note_visit(bench, record, seen);
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
        throw http_error(
            422,
            "what a control has in its memory cannot be taken away from here when it is old: send "
            "it when it is to be run");
    check_running(record_of_place(bench, wanted.place), wanted_programs(bench, wanted));
}

store::Answer<long long> send_programs(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                                       TaskReport& report) {
    std::string stopped;
    try {
        const auto turn = one_at_a_time(bench, wanted.place);
        const auto settings = settings_of(place_row(bench, wanted.place));
        const auto programs = wanted_programs(bench, wanted);
        const auto* folder = std::get_if<place::Folder>(&settings);
        stopped = folder != nullptr
                      ? into_folder(bench, by, wanted, *folder, programs)
                      : over_line(bench, by, wanted, std::get<LinePlace>(settings), programs, report);
    } catch (const HttpError& refused) {
        stopped = refused.body.value("error", std::string());
    }
    tell_of_places(bench, wanted.job);
    if (!stopped.empty()) return store::refuse(Why::bad, stopped);
    return wanted.job;
}

std::vector<std::string> look_at_place(Workbench& bench, const store::PlaceRow& place) {
    return visit(bench, place,
                 [](place::Calls& calls, const place::Folder& folder, const PlaceRecord& record) {
                     return place::look(calls, folder, record.held);
                 });
}

std::vector<std::string> clear_place(Workbench& bench, const store::PlaceRow& place) {
    return visit(bench, place,
                 [](place::Calls& calls, const place::Folder& folder, const PlaceRecord& record) {
                     return place::clear(calls, folder, record.held, record.begun);
                 });
}

store::Answer<long long> read_back(Workbench& bench, const store::Person& by, long long id,
                                   TaskReport& report) {
    const auto sending = bench.places.sending(id);
    if (!sending) return store::refuse(Why::not_found, "there is no such sending");
    try {
        const auto turn = one_at_a_time(bench, sending->place);
        const auto settings = settings_of(place_row(bench, sending->place));
        const auto* over = std::get_if<LinePlace>(&settings);
        if (over == nullptr)
            return store::refuse(Why::bad, "what stands in a folder was read again when it was sent");
        const auto line = place::open_line(over->device, over->line);
        if (!line) return store::refuse(Why::bad, line.error());
        const auto back = place::read_back(**line, sending->bytes, over->ways, [&] {
            return !report.progress(0, 1, "waiting for what the control sends out");
        });
        // Nothing that came says nothing of what the control holds.
        if (back.agrees || back.came)
            bench.places.note(by, id, back.agrees ? Became::read_back : Became::differs, back.words);
        tell_of_places(bench, sending->job);
        if (!back.agrees) return store::refuse(Why::bad, back.words);
    } catch (const HttpError& refused) {
        return store::refuse(Why::bad, refused.body.value("error", std::string()));
    }
    return sending->job;
}

}  // namespace seatwright::server
