// Places programs are sent to, and every sending: what was sent, when, by whom, and what became of it. A
// place belongs to a machine of the shelf by its name. Sendings and their lines are append-only, and each
// line stands in the Ledger.
//
// A sending is on record, bytes and all, before the place is touched: whatever stands there afterwards under
// its name or its temporary name is known as ours.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct NewPlace {
    std::string machine;   // its name on the shelf
    std::string name;      // "stick in the mill", unique in the shop, capitals aside
    std::string kind;      // "folder" or "line"
    std::string settings;  // JSON of the kind; not read here
};

struct PlaceRow : NewPlace {
    long long id = 0, version = 1;
    bool put_away = false;
};

struct NewSending {
    long long place = 0, job = 0;
    std::string head;
    std::string file;       // of the plan: "program-7-A-1-first.ngc"
    std::string name;       // at the place
    std::string temporary;  // there, while it is written; empty: over a line
    std::string bytes;
    std::string sha256;
    std::string part;         // which seats it is for, as asked; empty: the whole head
    std::string first_seats;  // valve ids between commas, of a file that ends at a first seat
    bool to_run = true;       // else it is sent ahead and may be taken away again without a word
};

// What became of a sending, in order.
enum class Became {
    arrived,      // whole, and read again with the same SHA-256; over a line: sent whole, not read back
    failed,       // nothing of it stands there under its name
    cut,          // a person: it was run
    not_started,  // a person: it never was
    stopped,      // a person: it was begun and is not running any more
    removed,      // by a later sending
    gone,         // it was no longer there when somebody looked
    read_back,    // a control sent it out again: it holds what was sent
    differs       // a control sent out something else
};

std::string word_of(Became became);  // "not started"
std::optional<Became> became_of(const std::string& word);

struct SendingLine {
    Became became = Became::failed;
    std::string words;
    std::string by;  // empty: the program itself
    long long at_ms = 0;
};

struct Sending : NewSending {
    long long id = 0, at_ms = 0;
    std::string by;
    std::vector<SendingLine> lines;

    // Whether it ever came to stand there, as far as is known: one without an end may have.
    bool may_stand() const;
    // Sent to be run, and nobody has said "cut", "not started" or "stopped" since: never removed, renamed or
    // written over.
    bool may_run() const;
    bool open() const;                   // cut off before its end was noted
    std::optional<Became> said() const;  // the person's last word
};

class Places {
  public:
    explicit Places(Database& database) : database_(database) {}

    std::vector<PlaceRow> rows();  // not those put away
    std::optional<PlaceRow> row(long long id);
    Answer<PlaceRow> make(const Person& by, const NewPlace& place);
    // Stale when `made_on` is not its version; refused while a file sent there may be running.
    Answer<PlaceRow> change(const Person& by, long long id, long long made_on, const NewPlace& place);
    Answer<PlaceRow> put_away(const Person& by, long long id);

    Sending begin(const Person& by, const NewSending& sending);
    // by: none = the program itself.
    void note(const std::optional<Person>& by, long long sending, Became became, const std::string& words);
    std::optional<Sending> sending(long long id);
    // Oldest first; with their bytes only those that are open.
    std::vector<Sending> at_place(long long place);
    std::vector<Sending> of_head(long long job, const std::string& head);

  private:
    Database& database_;
};

}  // namespace seatwright::store
