// English, what the workbench says beside the stages' own sentences: programs at a control, sources of
// readings, what everybody should know, what is being worked out.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::server {

inline constexpr auto english_table = std::to_array<words::Line>({
    // answers/job_card.cpp, answers/job_state.cpp
    {"server.two-values", "Two different values stand for one place ({place}): choose which is right."},
    {"server.worked-out-again",
     "A head read earlier was corrected: the heads after it are being worked out again."},
    {"server.no-file-until", "{again} No file is given out before that is done."},

    // answers/paper_files.cpp
    {"server.measured-as-a-file-says", "who measured {count} as a file says"},
    {"server.limits-not-accepted", "LIMITS NOT ACCEPTED BY A LEAD"},

    // answers/store_json.cpp
    {"server.on-two-servers", "on the disks of the database server and of its standby"},
    {"server.on-one-disk", "on one disk"},

    // jobs/computation.cpp
    {"server.not-known-yet", "Not known yet."},
    {"server.cannot-be-read", "the job file cannot be read as it stands"},

    // jobs/nightly_backup.cpp
    {"server.newest-backup-old", "the newest backup is {days} {days:day|days} old"},
    {"server.no-backup", "there is no backup yet"},
    {"server.last-try-failed", "{age}; the last try failed: {fault}"},
    {"server.fault", "{fault}"},
    {"server.not-worked-out", "it cannot be worked out"},
    {"server.other-numbers", "job {job} gives other numbers from the backup than here"},
    {"server.not-from-backup", "job {job} cannot be worked out from the backup: {fault}"},

    // serve.cpp
    {"server.unencrypted",
     "passwords and readings cross this network unencrypted, and readings wait only while this page stays "
     "open: start the workbench with a certificate, or behind a proxy that has one"},

    // jobs/tasks.cpp
    {"server.cancelled", "cancelled; nothing was kept"},
    {"server.program-error", "an error of the program itself stopped the task; nothing was kept"},

    // places/standing.cpp
    {"server.old-program", "The control holds an old program: stop, then take the new one."},
    {"server.cut-off", "The sending was cut off: look at the control, then say what became of it."},
    {"server.may-run", "It may be running (sent, and read again): say what became of it."},
    {"server.may-run-not-read-back", "It may be running (sent, not read back): say what became of it."},
    {"server.ahead", "It was sent ahead: send it when it is to be run."},
    {"server.ahead-and-old",
     "It was sent ahead and is old: it is taken away before anything else is sent there."},
    {"server.arrived", "arrived"},
    {"server.failed", "failed"},
    {"server.cut", "cut"},
    {"server.not-started", "not started"},
    {"server.stopped", "stopped"},
    {"server.removed", "removed"},
    {"server.gone", "gone"},
    {"server.read-back", "read back"},
    {"server.differs", "differs"},
    {"server.became-by", "{became} ({by})"},
    {"server.became-how", "{became}: {words}"},

    // places/record.cpp, places/sending.cpp
    {"server.found-whole", "the sending was cut off; found there whole"},
    {"server.found-nothing", "the sending was cut off; nothing of it is there"},
    {"server.no-longer-right", "no longer right"},
    {"server.no-longer-there", "it was no longer there as it was sent"},
    {"server.there-already", "it stood there already, byte for byte"},
    {"server.bytes-out", "{bytes} {bytes:byte|bytes} went out; not read back"},
    {"server.not-among-programs", "{file} is not among the programs that may run now: only those are sent"},
    {"server.running-there",
     "{file} was sent there to be run and may be running: say \"cut\", \"not started\" or \"stopped\" first; "
     "nothing was sent"},
    {"server.nothing-sent", "{why}; nothing was sent"},
    {"server.being-sent", "something is being sent to this place just now: wait for it"},
    {"server.not-looked-at", "what a control has in its memory cannot be looked at over its line"},
    {"server.not-ahead",
     "what a control has in its memory cannot be taken away from here when it is old: send it when it is to "
     "be run"},
    {"server.folder-not-read-back", "what stands in a folder was read again when it was sent"},
    {"server.sending", "sending {file}"},
    {"server.waiting-for-control", "waiting for what the control sends out"},

    // feeds/hub.cpp
    {"server.stood-still", "stood still"},
    {"server.by-the-pedal", "by the pedal"},
    {"server.by-the-button", "by the gauge's button"},
    {"server.by-hand", "taken by hand"},

    // feeds/socket.cpp, feeds/answer_reader.cpp
    {"server.host-not-known", "{host} is not known on the network: {fault}"},
    {"server.no-answer",
     "{host} port {port} does not answer: {fault}; is it switched on, is the port right?"},
    {"server.other-side-ended", "the other side ended the connection"},
    {"server.connection-broke", "the connection broke: {fault}"},
    {"server.no-http", "what answered does not speak http: {fault}"},
    {"server.ended-in-the-middle", "the answer ended in the middle"},

    // feeds/source.cpp
    {"server.endless-answer", "what the agent sends does not end"},
    {"server.agent-takes-nothing", "the agent takes no request"},
    {"server.agent-silent", "the agent is silent: not even its heartbeat comes"},
    {"server.agent-elsewhere", "the agent sends elsewhere: no address is asked but the one set up"},
    {"server.agent-ended", "the agent ended its stream: it is asked anew"},
    {"server.agent-status", "the agent answers {status} and nothing else"},
    {"server.agent-no-answer", "the agent ended the connection without an answer"},
    {"server.source-takes-nothing", "the source takes nothing any more"},
    {"server.line", "the line {trouble}"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::server
