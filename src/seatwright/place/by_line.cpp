#include "seatwright/place/by_line.hpp"

#include <algorithm>
#include <string_view>
#include <utility>
#include <vector>

#include "seatwright/base/sha256.hpp"
#include "seatwright/place/trouble.hpp"
#include "seatwright/words/english_place.hpp"

namespace seatwright::place {

namespace {

using Clock = std::chrono::steady_clock;

constexpr char dc1 = 0x11, dc3 = 0x13, dc4 = 0x14;
constexpr Wait step{50};
// Small, so that a wire that drops holds what comes next; a control's buffer has room for as much.
constexpr std::size_t piece = 64;
constexpr std::size_t largest_back = 16 << 20;

std::string on_the_wire(const std::string& program, bool crlf) {
    if (!crlf) return program;
    std::string out;
    for (const char c : program) {
        if (c == '\n' && (out.empty() || out.back() != '\r')) out += '\r';
        out += c;
    }
    return out;
}

Sentence gone(int fault) {
    return sentence<"line">("trouble"_is = trouble_of(fault));
}

long long seconds_of(Wait wait) {
    return wait.count() / 1000;
}

// Until the control says go, the last word of it that came counts. Says nothing: it did; else why not.
Sentence wait_for_go(Line& line, const LineWays& ways, const Ended& ended) {
    const auto until = Clock::now() + ways.held_at_most;
    bool go = false;
    while (!go || Clock::now() < until) {
        if (ended()) return sentence<"stopped-before">();
        if (Clock::now() > until)
            return sentence<"did-not-ask">("seconds"_is = seconds_of(ways.held_at_most));
        const auto came = line.read(go ? Wait{0} : step);
        if (!came) return gone(came.error());
        if (go && came->empty()) break;
        for (const char c : *came)
            if (c == dc1 || c == dc3) go = c == dc1;
    }
    return {};
}

bool clear(Line& line, const LineWays& ways) {
    return ways.handshake != Handshake::rts_cts || line.clear_to_send().value_or(false);
}

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines(1);
    for (const char c : text) {
        if (c == '\n')
            lines.emplace_back();
        else if (c != '\r' && c != '\0' && (c < dc1 || c > dc4))
            lines.back() += c;
    }
    while (!lines.empty() && lines.back().empty()) lines.pop_back();
    const auto first = std::find_if(lines.begin(), lines.end(), [](const auto& l) { return !l.empty(); });
    lines.erase(lines.begin(), first);
    return lines;
}

std::string digest_of(const std::vector<std::string>& lines) {
    std::string all;
    for (const auto& line : lines) all += line + '\n';
    return sha256(all);
}

Sentence first_difference(const std::vector<std::string>& sent, const std::vector<std::string>& back) {
    const auto [a, b] = std::mismatch(sent.begin(), sent.end(), back.begin(), back.end());
    const auto number = a - sent.begin() + 1;
    if (a == sent.end()) return sentence<"more-came-back">("count"_is = back.end() - b);
    if (b == back.end())
        return sentence<"fewer-came-back">("count"_is = back.size(), "sent"_is = sent.size());
    return sentence<"came-back-as">("number"_is = number, "back"_is = *b, "sent"_is = *a);
}

}  // namespace

LineSending send(Line& line, const std::string& program, const LineWays& ways, const Ended& ended) {
    LineSending result;
    if (ways.handshake == Handshake::rts_cts && !line.clear_to_send()) {
        result.stopped = sentence<"no-wire">();
        return result;
    }
    if (ways.wait_for_go)
        if (result.stopped = wait_for_go(line, ways, ended); !result.stopped.empty()) return result;
    line.begin_handshake();
    const std::string wire = on_the_wire(program, ways.crlf);
    auto moved = Clock::now();
    const auto stop = [&](Sentence why) {
        line.drop_unsent();
        result.stopped = sentence<"sent-in-part">("why"_is = std::move(why), "sent"_is = result.bytes,
                                                  "bytes"_is = wire.size());
    };
    std::size_t waiting = line.unsent();
    while (result.bytes < wire.size() || waiting > 0) {
        if (ended()) {
            stop(sentence<"stopped-by-hand">());
            return result;
        }
        std::size_t taken = 0;
        if (result.bytes < wire.size() && clear(line, ways)) {
            const auto wrote = line.write(std::string_view(wire).substr(result.bytes, piece), step);
            if (!wrote) {
                stop(gone(wrote.error()));
                return result;
            }
            taken = *wrote;
        } else {
            // A control that hangs up is noticed here.
            if (const auto came = line.read(step); !came) {
                stop(gone(came.error()));
                return result;
            }
        }
        result.bytes += taken;
        const std::size_t now_waiting = line.unsent();
        if (taken > 0 || now_waiting < waiting) moved = Clock::now();
        waiting = now_waiting;
        if (Clock::now() - moved > ways.held_at_most) {
            stop(sentence<"took-nothing">("seconds"_is = seconds_of(ways.held_at_most)));
            return result;
        }
    }
    result.whole = true;
    return result;
}

ReadBack read_back(Line& line, const std::string& program, const LineWays& ways, const Ended& ended) {
    std::string text;
    auto last = Clock::now();
    const auto until = last + ways.held_at_most;
    while (text.empty() ? Clock::now() < until : Clock::now() - last < ways.quiet) {
        if (ended()) return {false, false, sentence<"stopped-reading-back">()};
        const auto came = line.read(step);
        if (!came) return {false, false, gone(came.error())};
        if (!came->empty()) last = Clock::now();
        text += *came;
        if (text.size() > largest_back) return {false, false, sentence<"endless">()};
    }
    if (text.empty()) return {false, false, sentence<"nothing-came">()};
    const auto sent = lines_of(program), back = lines_of(text);
    if (digest_of(sent) == digest_of(back)) return {true, true, sentence<"holds-it">()};
    return {false, true, first_difference(sent, back)};
}

}  // namespace seatwright::place
