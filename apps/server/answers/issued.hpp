// Papers on their way out: kept as they leave (store/issues.hpp). What was taken before and comes out the
// same is handed out as it was kept; what comes out otherwise is the next issue, and says on sheet and
// certificate which one it takes the place of.
#pragma once

#include "server/answers/paper_files.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// Whose papers: a head of a job (empty: the stages' own choice, or all of them) and a part of it (part_key).
struct IssuedOf {
    long long job = 0;
    std::string head, part;
};

// The bytes that leave. Throws as paper_bytes does.
std::string issued_bytes(Workbench& bench, const store::Person& by, const IssuedOf& of,
                         Computation& computation, const std::string& name, const PaperQuery& query);
// A program that is sent.
void issue_program(Workbench& bench, const store::Person& by, const IssuedOf& of, const std::string& file,
                   const std::string& bytes);

// GET /api/jobs/{id}/issues, the newest first.
Json issues_json(Workbench& bench, long long job);

}  // namespace seatwright::server
