// English, what is said where a program is sent to a control: why it did not arrive, what to do there.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::place {

inline constexpr auto english_table = std::to_array<words::Line>({
    // trouble.cpp, of a folder, a line or a file
    {"place.full", "is full: make room there"},
    {"place.read-only", "is read-only: unlock the stick or the share"},
    {"place.not-allowed", "may not be written to by the workbench: give it the right to"},
    {"place.not-there", "is not there: is the share mounted, the stick plugged in?"},
    {"place.no-folder", "is no folder"},
    {"place.went-away", "went away: is the share mounted, the stick or cable plugged in?"},
    {"place.cannot-be-used", "cannot be used: {fault}"},

    // folder.cpp
    {"place.folder", "the folder {folder} {trouble}"},
    {"place.nothing-mounted",
     "nothing is mounted on {mount}: {folder} is an empty place on the server's own disk now; mount the "
     "share or plug the stick in, then send again"},
    {"place.cannot-be-read", "{file} in {folder} cannot be read: it {trouble}"},
    {"place.no-name", "'{file}' is no name for a file of a control: letters, digits, '-' and '.'"},
    {"place.names-alike", "two files are called {file} where capitals do not count: nothing was sent"},
    {"place.may-run",
     "{file} in {folder} was sent to be run and may be running: say \"cut\", \"not started\" or \"stopped\" "
     "first; nothing was sent"},
    {"place.not-ours",
     "{file} in {folder} is not a file the workbench sent, or was changed since: nothing was sent; look at "
     "it, then move it away"},
    {"place.not-as-sent", "{file} in {folder} is not as it was sent: it was left alone"},
    {"place.left-by-a-sending",
     "{file} in {folder} was left by a sending that was cut off and is not what was being sent: it was left "
     "alone; delete it by hand"},
    {"place.changed-meanwhile",
     "{file} in {folder} changed while the workbench looked at it: nothing was sent; send again"},
    {"place.not-removed", "{file} could not be removed: the folder {folder} {trouble}"},
    {"place.not-sent", "{file} was not sent: the folder {folder} {trouble}"},
    {"place.not-filled",
     "{file} was not sent: the folder {folder} {trouble}; nothing of it is in the folder under its name"},
    {"place.not-read-again", "{file} was written, but cannot be read again: the folder {folder} {trouble}"},
    {"place.spoilt",
     "what stands in {folder} is not what was sent as {file}: do not run it; the stick or share spoils what "
     "is written to it"},
    {"place.part-may-be-left", "{file} may be left in {folder}: do not run it"},
    {"place.temporary-may-be-left", "{file} may be left in {folder}; the next sending clears it"},
    {"place.another-came",
     "another file called {file} came into {folder} meanwhile: it was left, nothing was sent"},
    {"place.not-on-the-disk", "{file} is not known to be on the disk: the folder {folder} {trouble}"},

    // termios_line.cpp
    {"place.baud",
     "{baud} baud is none of 110, 300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600 and 115200"},
    {"place.bits", "a serial line has 7 or 8 bits"},
    {"place.parity", "the parity is none, even or odd"},
    {"place.stop-bits", "a serial line has 1 or 2 stop bits"},
    {"place.line-of", "the line {device} {trouble}"},
    {"place.no-line", "{device} is no serial line"},
    {"place.line-in-use", "the line {device} is in use by another feed or place"},

    // by_line.cpp
    {"place.line", "the line {trouble}"},
    {"place.no-wire",
     "this line has no wire \"clear to send\": wire it, or set the place to XON/XOFF; nothing was sent"},
    {"place.stopped-before", "stopped by hand before the control asked for the file: nothing was sent"},
    {"place.did-not-ask",
     "the control did not ask for the file within {seconds} s: set it to receive, then send again; nothing "
     "was sent"},
    {"place.sent-in-part",
     "{why}; {sent} of {bytes} bytes went out: what the control has of it is a part: delete it there, do not "
     "run it"},
    {"place.stopped-by-hand", "stopped by hand"},
    {"place.took-nothing", "the control took nothing for {seconds} s"},
    {"place.stopped-reading-back", "stopped by hand: not read back"},
    {"place.endless", "what the control sends does not end: not read back"},
    {"place.nothing-came", "nothing came from the control: let it send the program out, then try again"},
    {"place.holds-it", "the control holds what was sent"},
    {"place.more-came-back", "{count} {count:line|lines} more came back than were sent"},
    {"place.fewer-came-back",
     "only {count} of {sent} lines came back: the control does not hold the whole file"},
    {"place.came-back-as",
     "line {number} came back as '{back}' where '{sent}' was sent: delete it at the control, then send "
     "again"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::place
