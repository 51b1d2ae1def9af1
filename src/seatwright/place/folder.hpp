// Programs into a folder a control reads: a disk, a mounted share, a stick.
//
// Each file is written whole under a temporary name, flushed, read again, given its name (never over another
// file), the folder flushed, opened again by that name and its SHA-256 compared. What is no longer right and
// is not with a machine is removed before anything new is written. Nothing is touched unless the SHA-256 of
// what stands there is one the record knows as sent to this place under that name; whatever else has the name
// of a file to be sent, in capitals or small letters, stops the sending before anything is changed. A file
// that may be running is never removed, renamed or written over: that it may not be any more is a person's
// word, and the record's to know (Held::may_run).
//
// Ended at any moment, a name has no file, the whole old one or the whole new one; what is left besides is a
// file of a temporary name, which the next sending takes away (Begun).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/place/calls.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::place {

struct Folder {
    std::string path;
    // Where something must be mounted for `path` to be what it was when it was set up; empty: nowhere. A
    // share that is gone leaves an empty folder on the server's own disk, which takes files no control will
    // see.
    std::string mount{};
};

// A file of the record: sent to this place, and nobody has found it gone.
struct Held {
    std::string name, sha256;
    bool may_run = false;  // sent to be run, and nobody has said "cut", "not started" or "stopped" since
    bool right = false;    // what would be sent today under that name: it stays
};

// Bytes of a sending that is not known to have ended; the record has it before the folder is touched.
struct Begun {
    std::string temporary;
    std::string bytes;
};

struct ToSend {
    std::string name, bytes;
    std::string temporary;  // temporary_name(…), noted in the record
};

struct Sent {
    std::string name, sha256;
    bool was_there = false;  // already, byte for byte: nothing was written
};

struct Sending {
    std::vector<Sent> sent;
    std::vector<Held> removed;         // by this sending
    std::vector<Held> gone;            // of the record, no longer in the folder
    std::vector<std::string> cleared;  // temporary names that are in the folder no more
    std::vector<Sentence> notes;       // none of them stopped it
    bool looked = false;               // the record was held against the folder: `gone` is all of it
    bool left = false;                 // of a file that was not sent whole something may stand there
    Sentence stopped;                  // why not all was sent; says nothing: all was
};

// Of eight letters and an ending of three, for file systems that take no more: "sw1f0c2b.tmp", from `chance`.
std::string temporary_name(unsigned chance);

// All the files, in that order, or as far as it went. Names are of letters, digits, "-" and ".".
Sending send(Calls& calls, const Folder& folder, const std::vector<Held>& held,
             const std::vector<Begun>& begun, const std::vector<ToSend>& files);

// Takes away what may be: files of the record that are not right and not with a machine; nothing is written.
Sending clear(Calls& calls, const Folder& folder, const std::vector<Held>& held,
              const std::vector<Begun>& begun);

// What stands in the folder of the record's files; nothing is changed. `gone` and `stopped` speak.
Sending look(Calls& calls, const Folder& folder, const std::vector<Held>& held);

// The folder something is mounted on that `path` lies in; empty: the root's own disk. None: no such folder.
std::optional<std::string> mount_of(Calls& calls, const std::string& path);

}  // namespace seatwright::place
