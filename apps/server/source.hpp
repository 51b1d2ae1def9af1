// What the store knows of one job at one moment, ready to be computed with.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "seatwright/job/reader.hpp"
#include "seatwright/store/jobs.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/shelf.hpp"

namespace seatwright::server {

// Immutable once made.
struct Source {
    store::JobRow row;
    store::Version version;
    long long shelf = 0;    // version of the shelf
    std::string shop_text;  // the job's own shop file, or the shelf
    std::vector<store::Entry> entries;
    store::Resolution resolution;
    LengthUnit units = LengthUnit::mm;         // of the document
    std::string readings;                      // [[reading.*]] tables of what counts
    std::shared_ptr<const job::Job> document;  // the text without readings; null if it has become faulty
    Faults faults;                             // then why
};

// The file names faults are told under.
inline constexpr const char* job_file_name = "job";

// Reads a job whose shop file, whatever it is called, is `shop_text`.
Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const std::string& name = job_file_name);

}  // namespace seatwright::server
