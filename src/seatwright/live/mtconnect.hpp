// Documents of an agent (MTConnect, parts 1 to 3, versions 1.0 to 2.x): what it has (Devices), what it saw
// (Streams), what is wrong (Error). Read by local names, so that a prefix or a newer version is no matter; of
// the namespace only that it is one of the standard's. Entities are never expanded, nothing is fetched.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/live/observation.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::live {

struct AgentHeader {
    std::uint64_t instance = 0;                   // another after every start of the agent
    std::uint64_t first = 0, last = 0, next = 0;  // sequences; 0 where the document has none
    std::string version;
    std::optional<Ms> made;  // by the agent's clock
};

// What an agent can say, of its Devices document.
struct DataItem {
    std::string id, name, type, subtype, category;  // "SAMPLE", "EVENT", "CONDITION"
    std::string units;                              // "MILLIMETER", as the document has it
    std::string component;                          // "Linear X"
    std::string device;
};

struct Devices {
    AgentHeader header;
    std::vector<DataItem> items;
};

struct Streams {
    AgentHeader header;
    std::vector<Observation> observations;  // in the document's order; samples and events with a dataItemId
    std::size_t conditions = 0;             // not read: nothing of them is a reading
};

struct AgentError {
    std::string code, text;  // "OUT_OF_RANGE"
};

struct AgentDocument {
    enum class Kind { devices, streams, error } kind = Kind::error;
    Devices devices{};
    Streams streams{};
    AgentError error{};
};

inline constexpr std::size_t largest_document = 16 << 20;  // bytes

// Error: no XML (with where), or none of an agent's documents.
tl::expected<AgentDocument, Sentence> read_agent(std::string_view xml);

}  // namespace seatwright::live
