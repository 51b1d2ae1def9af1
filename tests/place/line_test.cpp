// Programs over a serial line: every byte, held when the control holds, never a part called whole. The far
// end of a pseudo-terminal is the control; one has no modem lines (TIOCMGET: ENOTTY), so RTS/CTS is tried on
// a line of the test's own.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <functional>
#include <thread>

#include "place/pty.hpp"
#include "seatwright/place/by_line.hpp"
#include "seatwright/place/termios_line.hpp"
#include "spoken.hpp"

namespace seatwright::place {
namespace {

const Ended never = [] { return false; };

std::string program_of(int lines) {
    std::string text = "%\n";
    for (int n = 1; n <= lines; ++n) text += "N" + std::to_string(n) + " G1 X12.3456 Y-7.8901 F300\n";
    return text + "M30\n%\n";
}

std::string with_crlf(const std::string& text) {
    std::string out;
    for (const char c : text) out += c == '\n' ? "\r\n" : std::string(1, c);
    return out;
}

void expect_says(const Sentence& what, const std::string& part) {
    const std::string said = spoken(what);
    EXPECT_NE(said.find(part), std::string::npos) << "'" << said << "' does not say '" << part << "'";
}

// The control at the far end, in a thread of its own until `enough`.
class Control {
  public:
    Control(const Pty& pty, std::function<void(const Pty&, std::string&)> act)
        : thread_([this, &pty, act = std::move(act)] {
              do act(pty, memory_);
              while (!ended_);
              for (std::string more; !(more = pty.hear(20)).empty();) memory_ += more;
          }) {}
    ~Control() { end(); }
    std::string end() {
        ended_ = true;
        if (thread_.joinable()) thread_.join();
        return memory_;
    }

  private:
    std::atomic<bool> ended_ = false;
    std::string memory_;
    std::thread thread_;
};

TEST(Line, EveryByteArrives) {
    const std::string program = program_of(2000);
    Pty pty;
    Control control(pty, [](const Pty& p, std::string& memory) { memory += p.hear(10); });
    const auto line = open_line(pty.name(), {});
    ASSERT_TRUE(line) << spoken(line.error());
    const auto done = send(**line, program, {}, never);
    EXPECT_EQ(spoken(done.stopped), "");
    EXPECT_TRUE(done.whole);
    EXPECT_EQ(control.end(), with_crlf(program));
    EXPECT_EQ(done.bytes, with_crlf(program).size());
}

TEST(Line, TheControlHoldsItWithXoffAndLosesNothing) {
    // A buffer of 200 bytes, emptied slowly: XOFF when there are more, XON when it is empty again. The
    // program is longer than what a pty takes in one go.
    const std::string program = program_of(600);
    Pty pty;
    std::atomic<int> holds = 0;
    std::size_t in_buffer = 0;
    Control control(pty, [&](const Pty& p, std::string& memory) {
        const std::string came = p.hear(10);
        memory += came;
        in_buffer += came.size();
        if (in_buffer < 200) return;
        in_buffer = 0;
        p.say("\x13");
        ++holds;
        std::this_thread::sleep_for(std::chrono::milliseconds(30));
        for (std::string more; !(more = p.hear(1)).empty();) memory += more;  // what was under way
        EXPECT_EQ(p.hear(60), "") << "nothing comes while it is held";
        p.say("\x11");
    });
    LineSettings settings;
    settings.handshake = Handshake::xon_xoff;
    const auto line = open_line(pty.name(), settings);
    ASSERT_TRUE(line) << spoken(line.error());
    LineWays ways;
    ways.handshake = Handshake::xon_xoff;
    const auto done = send(**line, program, ways, never);
    EXPECT_EQ(spoken(done.stopped), "");
    EXPECT_TRUE(done.whole);
    EXPECT_EQ(control.end(), with_crlf(program));
    EXPECT_GT(holds, 0) << "it was held at least once";
}

TEST(Line, ItBeginsOnlyWhenTheControlAsksForIt) {
    Pty pty;
    LineSettings settings;
    settings.handshake = Handshake::xon_xoff;
    const auto line = open_line(pty.name(), settings);
    ASSERT_TRUE(line) << spoken(line.error());
    LineWays ways;
    ways.handshake = Handshake::xon_xoff;
    ways.wait_for_go = true;
    ways.held_at_most = Wait{200};
    const auto unasked = send(**line, "M30\n", ways, never);
    expect_says(unasked.stopped, "did not ask for the file");
    EXPECT_FALSE(unasked.whole);
    EXPECT_EQ(pty.hear(20), "");
    ways.held_at_most = Wait{5000};
    pty.say("\x13\x11");
    EXPECT_TRUE(send(**line, "M30\n", ways, never).whole);
    EXPECT_EQ(pty.hear(1000), "M30\r\n");
}

TEST(Line, HeldForGoodOrStoppedByHandIsAPartAndSaysSo) {
    const std::string program = program_of(20'000);  // more than the system keeps for the far end
    Pty pty;
    const auto line = open_line(pty.name(), {});
    ASSERT_TRUE(line) << spoken(line.error());
    LineWays ways;
    ways.held_at_most = Wait{150};
    const auto held = send(**line, program, ways, never);
    EXPECT_FALSE(held.whole);
    expect_says(held.stopped, "took nothing");
    expect_says(held.stopped, "delete it there, do not run it");
    const auto stopped = send(**line, program, ways, [] { return true; });
    EXPECT_FALSE(stopped.whole);
    expect_says(stopped.stopped, "stopped by hand");
}

TEST(Line, ACablePulledOutIsNoticed) {
    Pty pty;
    auto line = open_line(pty.name(), {});
    ASSERT_TRUE(line) << spoken(line.error());
    pty.hang_up();
    const auto done = send(**line, program_of(5), {}, never);
    EXPECT_FALSE(done.whole);
    expect_says(done.stopped, "went away");
}

TEST(Line, WhatCannotBeASerialLineIsOneSentence) {
    LineSettings odd;
    odd.baud = 9601;
    expect_says(open_line("/dev/null", odd).error(), "9601 baud is none of");
    expect_says(open_line("/dev/null", {}).error(), "is no serial line");
    expect_says(open_line("/dev/no such line", {}).error(), "is not there");
    Pty pty;
    const auto first = open_line(pty.name(), {});
    ASSERT_TRUE(first);
    // A privileged program gets past the terminal's own lock; ours holds it too.
    EXPECT_FALSE(open_line(pty.name(), {}));
}

TEST(ReadBack, TheHashOfTheLinesDecides) {
    const std::string program = program_of(50);
    LineWays ways;
    ways.quiet = Wait{150};
    ways.held_at_most = Wait{2000};
    const auto back = [&](const std::string& sent_out) {
        Pty pty;
        const auto line = open_line(pty.name(), {});
        EXPECT_TRUE(line);
        pty.say(sent_out);
        return read_back(**line, program, ways, never);
    };
    const std::string nulls(20, '\0');
    EXPECT_TRUE(back(nulls + "\x12\r\n" + with_crlf(program) + "\x14" + nulls).agrees);
    std::string wrong = program;
    wrong[wrong.find("N7 ") + 6] = '9';
    const auto changed = back(wrong);
    EXPECT_FALSE(changed.agrees);
    expect_says(changed.words, "line 8 came back as");
    const auto half = back(with_crlf(program).substr(0, 700));
    EXPECT_FALSE(half.agrees);
    ways.held_at_most = Wait{150};
    const auto nothing = back("");
    EXPECT_FALSE(nothing.agrees);
    expect_says(nothing.words, "nothing came");
}

// A line with wires: what is sent while the control is not clear to send to is lost, as a full buffer loses
// it.
class WiredLine : public Line {
  public:
    std::string memory;
    int lost = 0, looks = 0;
    bool has_wires = true, dead = false;

    tl::expected<std::size_t, int> write(std::string_view bytes, Wait) override {
        if (!clear()) lost += static_cast<int>(bytes.size());
        const auto taken = bytes.substr(0, 40);
        memory += taken;
        room_ -= static_cast<int>(taken.size());
        return taken.size();
    }
    tl::expected<std::string, int> read(Wait) override {
        room_ += 30;  // it works while it is waited for
        return std::string();
    }
    std::optional<bool> clear_to_send() override {
        ++looks;
        if (!has_wires) return std::nullopt;
        return clear();
    }
    std::size_t unsent() override { return 0; }
    void drop_unsent() override {}
    void begin_handshake() override {}

  private:
    bool clear() const { return !dead && room_ > 0; }
    int room_ = 100;
};

TEST(Wires, NothingIsSentWhileTheControlIsNotClear) {
    WiredLine line;
    LineWays ways;
    ways.handshake = Handshake::rts_cts;
    const std::string program = program_of(40);
    const auto done = send(line, program, ways, never);
    EXPECT_TRUE(done.whole) << spoken(done.stopped);
    EXPECT_EQ(line.memory, with_crlf(program));
    EXPECT_EQ(line.lost, 0);
    EXPECT_GT(line.looks, 40);
    // Without the handshake the same line would have lost some: the line tells one from the other.
    WiredLine unasked;
    EXPECT_TRUE(send(unasked, program, {}, never).whole);
    EXPECT_GT(unasked.lost, 0);
}

TEST(Wires, NoWireOrOneThatStaysDownIsASentence) {
    LineWays ways;
    ways.handshake = Handshake::rts_cts;
    ways.held_at_most = Wait{100};
    WiredLine without;
    without.has_wires = false;
    expect_says(send(without, "M30\n", ways, never).stopped, "no wire \"clear to send\"");
    WiredLine down;
    down.dead = true;
    expect_says(send(down, "M30\n", ways, never).stopped, "took nothing");
    EXPECT_EQ(down.memory, "");
    // As it is of a pseudo-terminal.
    Pty pty;
    const auto line = open_line(pty.name(), {});
    ASSERT_TRUE(line) << spoken(line.error());
    EXPECT_EQ((*line)->clear_to_send(), std::nullopt);
    expect_says(send(**line, "M30\n", ways, never).stopped, "no wire \"clear to send\"");
    EXPECT_EQ(pty.hear(20), "");
}

}  // namespace
}  // namespace seatwright::place
