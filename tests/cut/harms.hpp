// Sound programs harmed on purpose: each harm is done in every place it fits and must be refused by the check
// meant for it. Invented data.
#pragma once

#include <gtest/gtest.h>

#include <functional>
#include <regex>
#include <string>
#include <vector>

#include "cut/programmed.hpp"
#include "seatwright/cut/readback.hpp"

namespace seatwright::cut {

inline std::string replaced(const std::string& text, const char* from, const std::string& to, int which) {
    const std::regex pattern(from);
    std::sregex_iterator at(text.begin(), text.end(), pattern), end;
    for (; which > 0 && at != end; --which) ++at;
    if (at == end) return text;
    const std::string put = at->format(to);
    return text.substr(0, static_cast<std::size_t>(at->position())) + put +
           text.substr(static_cast<std::size_t>(at->position() + at->length()));
}

struct Sound {
    fixtures::Programmed made;
    std::size_t which = 0;  // of its programs
    const Program& program() const { return made.cut.programs.at(which); }
    std::string refuses(const std::string& text) const {
        const auto fault = read_back(text, made.job, program().route, made.expected(program()));
        return fault ? fault->text : std::string();
    }
    const std::string& text() const { return program().text; }
};

struct Harm {
    const char* what;
    const char* from;  // replaced, in each place it is found
    std::string to;
    const char* says;
};

// Does each harm in each place it fits, and counts them.
inline int do_all(const Sound& sound, const std::vector<Harm>& harms) {
    EXPECT_EQ(sound.refuses(sound.text()), "");
    int done = 0;
    for (const Harm& harm : harms) {
        int here = 0;
        for (;; ++here) {
            const std::string text = replaced(sound.text(), harm.from, harm.to, here);
            if (text == sound.text()) break;
            const std::string fault = sound.refuses(text);
            EXPECT_NE(fault, "") << harm.what << " " << here;
            EXPECT_NE(fault.find(harm.says), std::string::npos) << harm.what << " " << here << ": " << fault;
        }
        EXPECT_GT(here, 0) << harm.what << "\n" << sound.text();
        done += here;
    }
    return done;
}

}  // namespace seatwright::cut
