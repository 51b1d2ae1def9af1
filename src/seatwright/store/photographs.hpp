// Photographs beside the database, each a file under the SHA-256 of its bytes, or in a table of the database
// server: what an entry names by that digest is covered by whatever covers the entry. They are never opened
// as pictures here, never changed, never erased.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/store/database.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

// The page makes them that small (longest side 1600 pixels, no data about place or camera).
inline constexpr std::size_t largest_photograph = 400'000;  // bytes

// The folder of a data folder, or of the folder a backup stands in.
std::string photographs_folder(const std::string& folder);

// True of 64 hexadecimal digits, small letters: a name that climbs nowhere.
bool is_photograph_name(std::string_view name);

class Photographs {
  public:
    explicit Photographs(std::string folder) : folder_(std::move(folder)) {}
    // On a database server: in its table.
    explicit Photographs(Database& database) : database_(&database) {}

    // Its name. On disk, flushed, when this returns; the same bytes again are the same file. Refused: larger
    // than largest_photograph, or not a JPEG by its first and last bytes.
    Answer<std::string> put(std::string_view jpeg) const;
    // None: there is none of that name.
    std::optional<std::string> get(const std::string& name) const;

  private:
    std::string folder_;
    Database* database_ = nullptr;
};

// The bytes that a text in base64 (RFC 4648, with its padding) stands for; none: it is no such text.
std::optional<std::string> bytes_of_base64(const std::string& text);
std::string base64_of(std::string_view bytes);

struct Copied {
    long long all = 0, made = 0;
};

// From one folder of photographs to another: those that are not there yet. A missing one has none.
Answer<Copied> copy_photographs(const std::string& from, const std::string& to);

}  // namespace seatwright::store
