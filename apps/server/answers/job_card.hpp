// The job as the Bench and the job page see it: its marks and what is next.
#pragma once

#include "server/jobs/computation.hpp"
#include "server/jobs/stored_job.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// A job's card; what the stages say in these units (the job's own if none).
Json card_json(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit);
Json card_json(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit,
               const store::Order& order);
// The card and the document.
Json job_json(Workbench& bench, const StoredJob& stored, std::optional<LengthUnit> unit);

// A stage's mark for `head`, the head the lines speak of; what a person said and what stands open of that
// head count.
std::string mark_of(const StoredJob& stored, const report::StageLine& line, const std::string& head);
// What to do next, of all stages; `lines` are said already.
struct NextWords {
    std::string next, frees;  // as a line of a stage has them
};
NextWords next_of(const StoredJob& stored, const std::vector<report::StageLine>& lines,
                  const std::string& head, const Speech& speech);

// The day the job is promised for, as it was said last.
std::optional<std::string> promised_of(const StoredJob& stored);
Json order_json(const store::Order& order);
// Whose it is, a line on its papers: of that head, or of all. Empty: nothing was said.
std::string order_words(const store::Order& order, const StoredJob& stored, const std::string& head);

// The JobCard shape with the marks of the head that was asked for.
Json open_card_json(const StoredJob& stored, Computation& computation, LengthUnit unit);

}  // namespace seatwright::server
