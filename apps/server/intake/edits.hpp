// Changes of single keys in a job's or the shelf's text, everything else left as it is. Each costs a read
// of the whole text, or two, so their number and their time are bounded.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "server/http/http_error.hpp"

namespace seatwright::server {

struct Edit {
    std::string key;  // "seat.intake.top[0].width"
    Json value;       // null removes the key
};

inline constexpr std::size_t most_edits = 200;  // of one question

// Out of a request's body. Throws HttpError 400.
std::vector<Edit> edits_of(const Json& body);

// The text with the edits made in order. Error: bad, with a sentence naming the key; too_large when they are
// not all made after `most` (looked at before each but the first).
store::Answer<std::string> edited(const std::string& text, const std::vector<Edit>& edits,
                                  std::chrono::milliseconds most = std::chrono::seconds(2));

// The edits with who confirms a figure (`sure`) or lets a thing pass (`allow`), and the day, as the login and
// the server's clock say them: what a client sends as the name is not shown as that person's word. What the
// text says already stays as it is.
std::vector<Edit> signed_by(std::vector<Edit> edits, const std::string& text, const std::string& name,
                            const std::string& date);

// The same of a whole text in place of `before`, both of which can be read: what it says anew is this
// person's word of this day, whatever stands behind it.
store::Answer<std::string> signed_text(const std::string& text, const std::string& before,
                                       const std::string& name, const std::string& date);

// "set seat.intake.width to 0.06 in; took out depth.deck_cut".
std::string said_of(const std::vector<Edit>& edits);

}  // namespace seatwright::server
