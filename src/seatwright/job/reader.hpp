// The job file (TOML 1.0) and its shop file, read and validated; keys as docs/job-file.md.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/value.hpp"

namespace seatwright::toml {
class Document;
}

namespace seatwright::job {

inline constexpr std::size_t max_file_bytes = 16u << 20;
inline constexpr int max_cylinders = 32;
inline constexpr std::size_t max_valves = 128;
inline constexpr std::size_t max_heads = 10'000;

// Text of a file named in the job (path relative to the job file), or a sentence saying why there is none.
using Fetch = std::function<tl::expected<std::string, std::string>(const std::string& path)>;

// Reads a job from text. `file` is the name used in faults; `fetch` brings the shop file. The core touches no
// disk: the rim passes a Fetch. Returns every fault found in both files at once;
// those of the shop file name it by the path from where `file` was named. Of a job file that is not TOML only
// what its text and its keys show by themselves is told.
Checked<Job> read_job(std::string_view text, const std::string& file, const Fetch& fetch);

// Readings that stand in no text, as the table of keys has accepted them: the table [reading] with a list for
// each kind; holds nothing if there are none. Faults found on the way.
struct GivenReadings {
    Value table{};
    Faults faults{};
};

// The same from a document read_text has read (text.hpp), with readings beside those the text has.
Checked<Job> read_job(const toml::Document& document, const std::string& file, const Fetch& fetch,
                      GivenReadings readings = {});

}  // namespace seatwright::job
