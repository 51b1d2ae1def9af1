// Digests of the texts the figures come from: each version of a job, the file a job was imported from, each
// version of the shelf. Like entries' (chain.hpp) each covers all of its row and the digest of the version
// before it, is made in the transaction that stores the text, and is held against it whenever the text is
// read: a changed letter is said (Damaged), never served.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/database.hpp"

namespace seatwright::store {

// The job number under which the shelf's versions are chained.
inline constexpr long long the_shelf = 0;
// The version number under which an imported file is; the job's first version stands on it.
inline constexpr long long the_original = 0;

// One version's row as it stands in the database.
struct TextFacts {
    long long job = 0, version = 0;
    std::string text;
    std::optional<std::string> other_text;  // of a job: its own shop file; of an imported file: its name
    long long made_ms = 0;                  // of an imported file 0
    std::optional<long long> made_by;
    std::string what;
    std::optional<long long> same_as, undo_to, redo_to;
};

// 64 hexadecimal digits. Each field stands with its length, so that no two versions read alike.
std::string digest_of(const TextFacts& text, const std::string& before);

// The digest of that version of a job or of the shelf; none where it has none.
std::optional<std::string> text_digest_at(Sql& sql, long long job, long long version);
// In the transaction that stores the text; the digest.
std::string keep_text_digest(Sql& sql, const TextFacts& text);
// Throws Damaged when that is not what was stored.
void require_text(Sql& sql, const TextFacts& text);

// All that is stored of a job, or of the shelf (the_shelf), in order: what is wrong with it in words, if
// anything.
std::optional<std::string> damage_of_texts(Sql& sql, long long job);
std::vector<std::string> damage_of_all_texts(Sql& sql);
std::vector<long long> all_jobs(Sql& sql);

// Texts stored before there were digests get theirs.
void chain_texts_that_are_there(Sql& sql);

}  // namespace seatwright::store
