// Programs of a job sent to a place: the record first, then the place, then the record of what became of it.
#pragma once

#include <string>
#include <vector>

#include "seatwright/words/in_words.hpp"
#include "server/jobs/tasks.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

struct WantedSending {
    long long job = 0, place = 0;
    std::string head;
    std::string part;                // part_key: which of its seats the programs are for
    std::vector<std::string> files;  // of the plan, in order
    bool to_run = true;
    Speech speech{};  // to who sends them
};

// Refuses what cannot be sent, before anything is done: HttpError 404, 409, 422.
void check_sending(Workbench& bench, const WantedSending& wanted);

// Sends them, one after the other. The answer is the job; or why not all of them arrived.
store::Answer<long long> send_programs(Workbench& bench, const store::Person& by, const WantedSending& wanted,
                                       TaskReport& report);

// What stands at a folder is looked at, and what may be is taken away (`clear`); noted in the record.
// What is to be shown; empty: nothing to say. Throws HttpError 409 where something is being sent there, 422
// with why not.
std::vector<Sentence> look_at_place(Workbench& bench, const store::PlaceRow& place, const Speech& speech);
std::vector<Sentence> clear_place(Workbench& bench, const store::PlaceRow& place, const Speech& speech);

// A control sends a program out again over its line, and it is held against what was sent.
store::Answer<long long> read_back(Workbench& bench, const store::Person& by, long long sending,
                                   const Speech& speech, TaskReport& report);

// Tells the job's pages and the Shelf.
void tell_of_places(Workbench& bench, long long job);

}  // namespace seatwright::server
