#include "seatwright/job/walk.hpp"

#include "seatwright/job/text.hpp"
#include "seatwright/job/walker.hpp"

namespace seatwright::job {

Walked walk_file(std::string_view text, const std::string& file, FileKind kind, LengthUnit inherited) {
    return walk_document(read_text(std::string(text)), file, kind, inherited);
}

Walked walk_document(const toml::Document& document, const std::string& file, FileKind kind,
                     LengthUnit inherited) {
    return walk_document(document, file, kind, inherited, key_tree());
}

Walked walk_document(const toml::Document& document, const std::string& file, FileKind kind,
                     LengthUnit inherited, const KeyNode& tree) {
    Walked out;
    out.units = units_of(document, inherited);
    out.readable = document.is_good();
    out.more_faults = document.more_faults();
    Walker<toml::Value> walker(file, kind, out.units, out.readable);
    out.root = walker.table(document.root(), tree, KeyPath{}, 1);
    // Without units no length means anything: say so first.
    if (kind == FileKind::job && out.readable && !out.root.has("units"))
        out.faults.push_back({file, 1, "units", "is missing; wanted: units = \"in\" or units = \"mm\""});
    if (!out.readable) {
        out.root = Value{};
        out.faults = faults_of_text(document, file);
        // What is said of a key holds only where its table is known.
        std::erase_if(walker.faults, [&](const Fault& fault) { return document.in_doubt(fault.line); });
    }
    std::move(walker.faults.begin(), walker.faults.end(), std::back_inserter(out.faults));
    return out;
}

}  // namespace seatwright::job
