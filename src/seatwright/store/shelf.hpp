// The shelf: the shop file every job reads unless it brought its own. Versioned like a job's document.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct ShelfVersion {
    long long number = 0;
    std::string text;
    long long at_ms = 0;
    std::string by;  // empty = the program itself, on first start
    std::string what;
};

class Shelf {
  public:
    explicit Shelf(Database& database) : database_(database) {}

    // Puts `text` on an empty shelf; does nothing when there is one.
    void stock(const std::string& text);
    ShelfVersion current();
    std::optional<ShelfVersion> version(long long number);
    std::vector<ShelfVersion> versions();  // newest first, without texts
    // Stale when `made_on` is not the newest version.
    Answer<ShelfVersion> change(const Person& by, long long made_on, const std::string& text,
                                const std::string& what);

  private:
    Database& database_;
};

}  // namespace seatwright::store
