// Who may use whom in the house, and who does: rooms are folders, and a room uses another when a file of it
// includes or imports one of the other's.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace seatwright::house {

// What a room stands on: it may use those, and what they stand on in their turn, and nothing else.
using Plan = std::map<std::string, std::vector<std::string>>;

struct Use {
    std::string file;  // the one that uses
    int line = 0;
    std::string from, to;    // the rooms
    std::string of, target;  // the files below the root, without ending: "server/http/call"
};

// `#include "room/file.hpp"` of the C++ sources below a folder of `root`: paths are from the root. A file
// included by a path without a room has the room "?".
std::vector<Use> includes_below(const std::filesystem::path& root, const std::string& folder);
// `import … from '../room/file'` of the TypeScript sources below `root`, of types too.
std::vector<Use> imports_below(const std::filesystem::path& root);

// A sentence for each use the plan does not allow, and for each room it does not know.
std::vector<std::string> faults_of(const Plan& plan, const std::vector<Use>& uses);
// The rooms of the plan that stand on themselves by a roundabout.
std::vector<std::string> circles_of(const Plan& plan);
// The files that use themselves by a roundabout.
std::vector<std::string> circles_of(const std::vector<Use>& uses);

}  // namespace seatwright::house
