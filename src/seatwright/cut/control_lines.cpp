#include "seatwright/cut/control_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/job/control_words.hpp"

namespace seatwright::cut {

namespace {

using CheckedWords = tl::expected<std::vector<Word>, std::string>;

CheckedWords words_of(const char* key, const std::string& text, job::ControlUse use) {
    if (const std::string fault = job::fault_of_control_words(text, use); !fault.empty())
        return tl::unexpected(fmt::format("{}: \"{}\" {}", key, text, fault));
    auto line = read_line(text, CommentStyle::parentheses_only);
    if (!line) return tl::unexpected(fmt::format("{}: \"{}\": {}", key, text, line.error()));
    return std::move(line->words);
}

bool same(const std::vector<Word>& a, const std::vector<Word>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Word& x, const Word& y) {
        return x.letter == y.letter && x.value == y.value;
    });
}

}  // namespace

tl::expected<ControlLines, std::string> ControlLines::of(const job::Dialect& dialect,
                                                         const std::optional<job::Float>& tool_float) {
    ControlLines lines;
    std::string fault;
    const auto take = [&](const char* key, const std::string& text, job::ControlUse use) {
        auto words = words_of(key, text, use);
        if (!words && fault.empty()) fault = words.error();
        return words.value_or(std::vector<Word>{});
    };
    const auto name = [&](ControlEvent event, const char* key, const std::string& text, job::ControlUse use) {
        lines.named_.push_back({event, take(key, text, use)});
    };
    if (!dialect.top.empty()) name(ControlEvent::top, "dialect.top", dialect.top, job::ControlUse::top);
    if (tool_float && tool_float->kind == job::Float::Kind::commanded) {
        const auto word = [&](ControlEvent event, const char* key, const std::string& text) {
            if (text != "hand" && text != "self") name(event, key, text, job::ControlUse::float_word);
        };
        word(ControlEvent::float_free, "machine.float.free", tool_float->free);
        word(ControlEvent::float_centre, "machine.float.centre", tool_float->centre);
        word(ControlEvent::float_lock, "machine.float.lock", tool_float->lock);
    }
    lines.change_ = take("dialect.tool_change", dialect.tool_change, job::ControlUse::tool_change);
    lines.end_ = take("dialect.program_end", dialect.program_end, job::ControlUse::program_end);
    if (!fault.empty()) return tl::unexpected(fault);
    return lines;
}

std::vector<ControlEvent> ControlLines::events(const std::vector<Word>& words) const {
    std::vector<ControlEvent> found;
    for (const Named& named : named_)
        if (same(named.words, words)) found.push_back(named.event);
    return found;
}

std::optional<double> ControlLines::change(const std::vector<Word>& words) const {
    if (words.size() < 2 || words.front().letter != 'T') return std::nullopt;
    return same({words.begin() + 1, words.end()}, change_) ? std::optional(words.front().value)
                                                           : std::nullopt;
}

bool ControlLines::end(const std::vector<Word>& words) const {
    return same(words, end_);
}

}  // namespace seatwright::cut
