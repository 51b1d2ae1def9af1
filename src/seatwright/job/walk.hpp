// From text to checked entries: a TOML document, then the table of keys.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/job/value.hpp"
#include "seatwright/toml/document.hpp"

namespace seatwright::job {

enum class FileKind { job, shop };

struct Walked {
    Value root;
    LengthUnit units = LengthUnit::mm;
    Faults faults;
    std::size_t more_faults = 0;  // of the text, beyond those told
    bool readable = true;         // false: the text is at fault, the entries are empty
};

// Checks a file against the table of keys. Of a text at fault the keys that can be read are checked too, but
// none is said to be missing. `inherited` is the unit of bare lengths in a shop file that does not name its
// own. A job without `units` is at fault and read as mm.
Walked walk_file(std::string_view text, const std::string& file, FileKind kind, LengthUnit inherited);
// The same of a document that read_text has read (text.hpp).
Walked walk_document(const toml::Document& document, const std::string& file, FileKind kind,
                     LengthUnit inherited);
// The same against another table of keys.
Walked walk_document(const toml::Document& document, const std::string& file, FileKind kind,
                     LengthUnit inherited, const KeyNode& tree);

}  // namespace seatwright::job
