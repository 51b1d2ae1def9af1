// Papers as they left: every sheet, certificate, program and table that was taken or printed, byte for byte,
// with its digest, the person and the time. What is drawn anew after a change or by another version of the
// program and comes out otherwise is a new issue that names the one it takes the place of; the old bytes
// stay. Append-only, and chained like entries (store/chain.hpp): a changed byte or row is found and not
// handed out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"

namespace seatwright::store {

// Which paper of a job: issues of the same one are numbered from 1.
struct PaperName {
    long long job = 0;
    std::string head;  // of the job's; empty: of all of them
    std::string part;  // of the head, as a key; empty: the whole
    std::string form;  // "in letter": units and size of the page; empty: the same whatever they are
    std::string file;  // "sheet.pdf"
};

struct Issue {
    long long id = 0;
    PaperName paper;
    long long number = 0;
    std::string made_of;  // SHA-256 of the bytes as drawn, before the page said which issue it is
    std::string sha256;   // of the bytes that left
    long long at_ms = 0;
    std::string by;
    std::optional<long long> replaces;  // id of the issue before
};

class Issues {
  public:
    explicit Issues(Database& database) : database_(database) {}

    std::optional<Issue> newest(const PaperName& paper);
    // The next issue of that paper, after `before` (the newest known; none: the first). Nothing when another
    // has been kept in the meantime: draw again.
    std::optional<Issue> keep(const Person& by, const PaperName& paper, const std::string& made_of,
                              const std::string& bytes, const std::optional<Issue>& before);
    // Of a job, newest first.
    std::vector<Issue> of_job(long long job);
    std::optional<Issue> one(long long job, long long id);
    // Its bytes; throws Damaged when they or its row are not as they were stored.
    std::string bytes(const Issue& issue);

  private:
    Database& database_;
};

// What is wrong with the issues of a job, in words, if anything.
std::optional<std::string> damage_of_issues(Sql& sql, long long job);

}  // namespace seatwright::store
