// What the store knows of one job at one moment, ready to be computed with.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/growing_list.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/store/jobs.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/shelf.hpp"
#include "seatwright/toml/document.hpp"

namespace seatwright::server {

// A version's text, read once for all entries that come to it.
struct ReadVersion {
    toml::Document text;
    std::optional<std::string> casting_text;  // of the shop's casting the text names
    Checked<job::Job> job;                    // without readings
};

// A job as the stages read it; null: its faults say why not.
struct ReadJob {
    std::shared_ptr<const job::Job> job;
    Faults faults;
};

// Immutable once made.
struct StoredJob {
    store::JobRow row;
    store::Version version;
    long long shelf = 0;    // version of the shelf, and of all castings: grows with each change of either
    std::string shop_text;  // the job's own shop file, or the shelf
    GrowingList<store::Entry> entries;
    GrowingList<std::size_t> words;  // places of those entries that are no readings
    store::Resolution resolution;
    std::shared_ptr<const ReadVersion> read;   // the version's text
    LengthUnit units = LengthUnit::mm;         // of the document
    std::shared_ptr<const job::Job> document;  // the text without readings; null if it has become faulty
    ReadJob job;                               // with its readings
    std::size_t heads_finished = 0;            // every seat of theirs measured
};

// The job as a file, readings and all: what the export gives. Reading it gives what job_of gives.
std::string text_of(const StoredJob& stored);
// The job with its readings, or with them in another text, read anew; their text is not made for it.
Checked<job::Job> job_of(const StoredJob& stored);
Checked<job::Job> job_of(const StoredJob& stored, const std::string& text);

// The file names faults are told under.
inline constexpr const char* job_file_name = "job";

// The text of the shop's casting of that name, if there is one.
using CastingText = std::function<std::optional<std::string>(const std::string&)>;

// What fetches `shop_text`, whatever a job calls its shop file, and the casting that `text` names.
job::Fetch fetch_of(const toml::Document& text, const std::string& shop_text, const CastingText& castings);
// Reads a job whose shop file, whatever it is called, is `shop_text`.
Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const CastingText& castings = {}, const std::string& name = job_file_name);

}  // namespace seatwright::server
