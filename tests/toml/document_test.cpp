// The tree and the text: every value knows its bytes, and nothing of the text is lost.
#include "seatwright/toml/document.hpp"

#include <gtest/gtest.h>
#include <malloc.h>

#include "seatwright/toml/path.hpp"
#include "toml/generate.hpp"

namespace seatwright::toml {
namespace {

const std::string sheet =
    "# top\n"
    "title = 'one' # said\n"
    "a.b = 1\r\n"
    "\"q r\".s = [1, 'two', # three\n  0x10 ]\n"
    "\n"
    "[head.pattern] # pattern\n"
    "valve = [ { x = 1, at.y = 2 }, [ ] ]\n"
    "[[reading . touch]]\n"
    "x = 1\n"
    "# between\n"
    "[[reading.touch]]\n"
    "[reading.touch.by]\n"
    "name = \"\"\"\n[head]\n\"\"\"\n"
    "[head]\n"
    "name = \"h\"\n"
    "# end";

std::string text_of(const Document& document, Span span) {
    return document.text().substr(span.begin, span.end - span.begin);
}

TEST(TomlDocument, ValuesKnowTheirBytes) {
    const auto document = Document::parse(sheet);
    ASSERT_TRUE(document.is_good()) << document.faults()[0].text;
    const auto written = [&](const char* path) {
        const Value value = find(document.root(), *parse_path(path));
        EXPECT_TRUE(value) << path;
        return text_of(document, value.span());
    };
    EXPECT_EQ(written("title"), "'one'");
    EXPECT_EQ(written("a.b"), "1");
    EXPECT_EQ(written("a"), "a");
    EXPECT_EQ(written("head.pattern"), "[head.pattern]");
    EXPECT_EQ(written("head.pattern.valve"), "[ { x = 1, at.y = 2 }, [ ] ]");
    EXPECT_EQ(written("head.pattern.valve[0]"), "{ x = 1, at.y = 2 }");
    EXPECT_EQ(written("head.pattern.valve[0].at.y"), "2");
    EXPECT_EQ(written("head.pattern.valve[1]"), "[ ]");
    EXPECT_EQ(written("reading.touch[0]"), "[[reading . touch]]");
    EXPECT_EQ(written("reading.touch[1].by.name"), "\"\"\"\n[head]\n\"\"\"");
    EXPECT_EQ(written("head"), "[head]");
    const Value list = document.root().find("q r").find("s");
    std::string entries;
    for (const auto& entry : list.items()) entries += text_of(document, entry.span()) + ";";
    EXPECT_EQ(entries, "1;'two';0x10;");
    EXPECT_EQ(list.at(2).integer(), 16);
    EXPECT_EQ(list.at(2).line(), 5);
    EXPECT_EQ(list.key_line(), 4);
    EXPECT_EQ(text_of(document, {list.key_begin(), list.span().begin}), "\"q r\".s = ");
    EXPECT_FALSE(list.at(3));
    EXPECT_EQ(document.root().find("head").key_line(), 7) << "where its name first stands";
    EXPECT_EQ(document.root().find("head").line(), 17) << "its own header";
    std::string names;
    for (const auto& value : document.root().items()) names += value.name() + ";";
    EXPECT_EQ(names, "title;a;q r;head;reading;");
    EXPECT_EQ(document.newline(), "\r\n");
}

TEST(TomlDocument, AsksOfAnotherKindAreAnsweredByNothing) {
    const auto document = Document::parse("a = 1\nb = 'x'\n");
    const Value a = document.root().find("a"), b = document.root().find("b"),
                none = document.root().find("c");
    EXPECT_FALSE(a.text() || a.flag() || a.moment() || b.number() || b.integer());
    EXPECT_EQ(a.kind(), Kind::integer);
    EXPECT_EQ(none.kind(), Kind::absent);
    EXPECT_FALSE(none.find("d").at(3).find("e"));
    EXPECT_EQ(none.items().begin(), none.items().end());
    EXPECT_EQ(b.at(0).kind(), Kind::absent);
    // A copy keeps its text alive.
    Value still;
    {
        const Document copy = document;
        still = copy.root().find("b");
    }
    EXPECT_EQ(still.text(), "x");
}

TEST(TomlDocument, SectionsAndTheirStatements) {
    const auto document = Document::parse(sheet);
    std::string whole, said;
    for (const auto& section : document.sections()) {
        whole += text_of(document, section.span);
        for (const auto& name : section.path) said += name + ".";
        said += section.of_list ? "[]:" : ":";
        for (const auto& statement : document.statements(section)) {
            said += " " + text_of(document, statement.span);
            EXPECT_GE(statement.span.begin, section.span.begin);
            EXPECT_LE(statement.span.end, section.span.end);
        }
        said += "\n";
    }
    EXPECT_EQ(whole, sheet);
    EXPECT_EQ(said,
              ": title = 'one' a.b = 1 \"q r\".s = [1, 'two', # three\n  0x10 ]\n"
              "head.pattern.: valve = [ { x = 1, at.y = 2 }, [ ] ]\n"
              "reading.touch.[]: x = 1\n"
              "reading.touch.[]:\n"
              "reading.touch.by.: name = \"\"\"\n[head]\n\"\"\"\n"
              "head.: name = \"h\"\n");
}

// Spans of what is in a value lie in order within its own, and none overlaps.
void check_spans(const Document& document, const Value& value, std::size_t begin, std::size_t end) {
    const Span span = value.span();
    ASSERT_LE(span.begin, span.end);
    ASSERT_LE(span.end, document.text().size());
    if (!value.in_brackets()) return;
    ASSERT_GE(span.begin, begin);
    ASSERT_LE(span.end, end);
    for (const auto& item : value.items()) check_spans(document, item, span.begin, span.end);
}

TEST(TomlDocument, GeneratedTextsHoldTheirValues) {
    test::Random random(3);
    int good = 0;
    for (int i = 0; i < 5000; ++i) {
        const std::string text = test::text_of_statements(random, 1 + i % 10);
        const auto document = Document::parse(text);
        ASSERT_EQ(document.text(), text);
        for (const auto& value : document.root().items()) check_spans(document, value, 0, text.size());
        std::string whole;
        for (const auto& section : document.sections()) whole += text_of(document, section.span);
        ASSERT_EQ(whole, text);
        if (!document.is_good()) continue;
        ++good;
        // Each statement is one line, or the lines of its value, and is TOML on its own.
        for (const auto& section : document.sections())
            for (const auto& statement : document.statements(section)) {
                const auto alone = Document::parse(text_of(document, statement.span));
                ASSERT_TRUE(alone.is_good()) << text;
                ASSERT_TRUE(alone.root().find(statement.first)) << text << statement.first;
            }
    }
    EXPECT_GT(good, 1000);
}

TEST(TomlDocument, ManyKeysAreFoundAndToldApart) {
    std::string text = "[t]\n";
    for (int i = 0; i < 20000; ++i) text += "k" + std::to_string(i) + " = " + std::to_string(i) + "\n";
    const auto document = Document::parse(text);
    ASSERT_TRUE(document.is_good());
    EXPECT_EQ(document.root().find("t").find("k19999").integer(), 19999);
    const auto twice = Document::parse(text + "k12345 = 1\nk0 = 2\n");
    ASSERT_EQ(twice.faults().size(), 2u);
    EXPECT_EQ(twice.faults()[0].text, "k12345 is given twice, first in line 12347; keep one of the two");
}

// The heap a document takes, text and tree, over the bytes of its text: `begin`, `unit` many times, `end`.
double memory_times_text(const std::string& begin, const std::string& unit, const std::string& end,
                         bool good) {
    std::string text = begin;
    while (text.size() < (4u << 20)) text += unit;
    text += end;
    text.shrink_to_fit();
    const double size = static_cast<double>(text.size());
    const auto used = [] {
        const auto info = mallinfo2();
        return static_cast<double>(info.uordblks + info.hblkhd);
    };
    const double before = used() - size;
    const auto document = Document::parse(std::move(text));
    EXPECT_EQ(document.is_good(), good) << unit;
    return (used() - before) / size;
}

// At most 6 times the text of jobs and shelves (issue 13).
TEST(TomlDocument, MemoryIsBoundedByTheText) {
    for (const char* unit : {"[[reading.touch]]\nhead = \"1\"\nvalve = \"1I\"\nx = 0.1\ny = 0\n",
                             "[[reading.proof]]\ntrace = [0,0,0,0,0,0]\n",
                             "[[seat]]\ntop = [{ angle = 30, width = 1.2 }, { angle = 15, width = 1 }]\n",
                             "[[reading.seat]]\nsection = [[19, -1], [20, 0], [21, 1]]\n", "# words\n"}) {
        const double times = memory_times_text("v = 1\n", unit, "", true);
        EXPECT_LE(times, 6) << unit;
        // Under a sanitizer the count of the heap is not kept.
        if (times > 0.5) RecordProperty("times", std::to_string(times));
    }
}

// What takes most for its bytes: a part of a key is two of them, a bracket on a line of its own is.
TEST(TomlDocument, MemoryOfTheWorstTexts) {
    for (const char* unit : {"{},", "{a=1},", "{a.b.c.d.e.f.g.h.i.j.k.l=1},"}) {
        const double times = memory_times_text("l = [", unit, "]\n", true);
        EXPECT_LE(times, 13) << unit;
        RecordProperty("times", std::to_string(times));
    }
    EXPECT_LE(memory_times_text("", "[[a]]\na.b.c.d.e.f.g.h.i.j.k.l=1\n", "", true), 13);
    EXPECT_LE(memory_times_text("", "[\n", "", false), 16);
}

}  // namespace
}  // namespace seatwright::toml
