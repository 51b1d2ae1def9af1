// How a file that was sent stands today: what the plan would send now decides.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "seatwright/store/places.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/http/http_error.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// A program of the plan as it is now, that may run.
struct ProgramNow {
    std::string file, bytes, sha256;
    std::string name;         // at a place
    std::string first_seats;  // of a file that ends at a first seat: ids between commas
};

// Of that head, for the part of it that `part` (part_key) names. Empty: there is none as things stand.
std::vector<ProgramNow> programs_now(Workbench& bench, long long job, const std::string& head,
                                     const std::string& part);

enum class StandsAs {
    right,    // what would be sent today
    used_up,  // a first file whose seat was measured since: it has done its work
    stale,    // the plan has changed: stop, then take the new one
    unknown   // the job is being worked out again
};
std::string word_of(StandsAs stands);

// Asks each job only once however many files of it there are.
class Standings {
  public:
    explicit Standings(Workbench& bench) : bench_(bench) {}
    StandsAs of(const store::Sending& sending);

  private:
    const std::vector<ProgramNow>& now(const store::Sending& sending);
    bool first_read_since(const store::Sending& sending);
    Workbench& bench_;
    std::map<std::string, std::vector<ProgramNow>> known_;
};

// GET /api/jobs/{id}/sent: every sending of the head that may stand or run, and the latest others.
Json sent_json(Workbench& bench, long long job, const std::string& head, const Speech& speech);
Json to_json(const store::PlaceRow& place);

}  // namespace seatwright::server
