// Surveys: heads being described at the machine, each a list of what a person read, said or took back. As a
// job's entries these are never changed and never erased; a correction is another entry. What they come to is
// worked out from them (seatwright/survey).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

using Json = nlohmann::ordered_json;

struct SurveyRow {
    long long id = 0;
    std::string title;
    LengthUnit units = LengthUnit::mm;  // of bare lengths in its entries
    long long sequence = 0;             // number of the last entry
    long long made_ms = 0, changed_ms = 0;
    std::string changed_by;
    std::optional<long long> job;  // the job last made of it
    auto operator<=>(const SurveyRow&) const = default;
};

struct NewSurveyEntry {
    std::string client_key;        // made by the browser, unique in the survey: makes sending again safe
    std::string kind;              // what of: "head", "setup", "point", "level", "size", "way", "left out"
    Json values = Json::object();  // of a reading the keys of its table in a readings file
    std::optional<long long> said_ms;   // when the person made it, as the browser says
    std::optional<long long> corrects;  // the entry it takes the place of
    bool withdrawn = false;             // only takes back the one it corrects
};

struct SurveyEntry : NewSurveyEntry {
    long long id = 0, survey = 0, sequence = 0;
    long long at_ms = 0;
    std::string by;
};

// Whether each counts: not taken back, and not corrected by one that counts. In the order of `entries`.
std::vector<bool> live_entries(const std::vector<SurveyEntry>& entries);

class Surveys {
  public:
    explicit Surveys(Database& database) : database_(database) {}

    // `first`: what is said of the head at once. The same client key gives the survey that is there.
    Answer<SurveyRow> make(const Person& by, const std::string& title, LengthUnit units,
                           const NewSurveyEntry& first);
    std::optional<SurveyRow> row(long long id);
    std::vector<SurveyRow> rows();  // last changed first
    std::vector<SurveyEntry> entries(long long id);
    // On disk when it returns. The same client key with the same content answers what is stored, with another
    // it is refused as taken.
    Answer<SurveyEntry> append(const Person& by, long long id, const NewSurveyEntry& entry);
    void made_job(const Person& by, long long id, long long job);

  private:
    Database& database_;
};

}  // namespace seatwright::store
