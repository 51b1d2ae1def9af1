// Edits of generated texts: what was asked, in the bytes concerned and nowhere else. What edits of a job look
// like stands in job/editor_test.
#include "seatwright/toml/edit.hpp"

#include <gtest/gtest.h>

#include "seatwright/toml/compare.hpp"
#include "seatwright/toml/path.hpp"
#include "toml/generate.hpp"

namespace seatwright::toml {
namespace {

// Every path of plain names in a value.
void paths_of(const Value& value, const std::string& path, std::vector<std::string>& out) {
    if (!path.empty()) out.push_back(path);
    std::size_t index = 0;
    for (const auto& item : value.items()) {
        const std::string name = item.name();
        if (value.kind() == Kind::list)
            paths_of(item, path + "[" + std::to_string(index++) + "]", out);
        else if (parse_path(name) && parse_path(name)->size() == 1)
            paths_of(item, path.empty() ? name : path + "." + name, out);
    }
}

struct Sample {
    Document document;
    std::string path;
};

// A good generated text and one of its paths.
Sample sample(test::Random& random) {
    while (true) {
        auto document = Document::parse(test::text_of_statements(random, 3 + static_cast<int>(random() % 6)));
        std::vector<std::string> paths;
        if (document.is_good()) paths_of(document.root(), "", paths);
        if (!paths.empty()) return {document, paths[random() % paths.size()]};
    }
}

// Bytes two texts have in common at their ends.
std::size_t in_common(const std::string& a, const std::string& b) {
    const auto front = std::mismatch(a.begin(), a.end(), b.begin(), b.end()).first - a.begin();
    const auto back = std::mismatch(a.rbegin(), a.rend(), b.rbegin(), b.rend()).first - a.rbegin();
    return std::min(static_cast<std::size_t>(front + back), std::min(a.size(), b.size()));
}

TEST(TomlEdit, SetsGeneratedValuesAndNothingElse) {
    test::Random random(11);
    int done = 0;
    for (int i = 0; i < 3000; ++i) {
        const auto [document, path] = sample(random);
        const Value old = find(document.root(), *parse_path(path));
        const auto edited = set_value(document, path, "4711");
        if (!old.in_brackets() && (old.kind() == Kind::table || old.kind() == Kind::list)) {
            EXPECT_FALSE(edited);
            continue;
        }
        ASSERT_TRUE(edited) << document.text() << path << ": " << edited.error();
        ++done;
        std::string expected = document.text();
        expected.replace(old.span().begin, old.span().end - old.span().begin, "4711");
        ASSERT_EQ(edited->text(), expected);
        // And back: the same bytes.
        const auto span = old.span();
        const auto back = set_value(*edited, path, document.text().substr(span.begin, span.end - span.begin));
        ASSERT_TRUE(back) << back.error();
        ASSERT_EQ(back->text(), document.text());
    }
    EXPECT_GT(done, 1000);
}

TEST(TomlEdit, AddsAndRemovesInGeneratedTexts) {
    test::Random random(12);
    int added = 0, removed = 0, appended = 0;
    for (int i = 0; i < 3000; ++i) {
        const auto [document, path] = sample(random);
        const Value value = find(document.root(), *parse_path(path));
        if (const auto gone = remove_value(document, path)) {
            ++removed;
            EXPECT_EQ(in_common(document.text(), gone->text()), gone->text().size())
                << document.text() << path;
        }
        if (value.kind() == Kind::table)
            if (const auto more = set_value(document, path + ".new", "[1, 2]")) {
                ++added;
                EXPECT_EQ(in_common(document.text(), more->text()), document.text().size());
                EXPECT_EQ(find(more->root(), *parse_path(path + ".new[1]")).integer(), 2);
                const auto back = remove_value(*more, path + ".new");
                ASSERT_TRUE(back) << more->text() << back.error();
                EXPECT_TRUE(differs_by(document.root(), back->root(),
                                       {*parse_path(path + ".new"), Difference::How::removed, {}}));
            }
        if (value.kind() == Kind::list)
            if (const auto more = append_table(document, path, {{"x", "1"}})) {
                ++appended;
                EXPECT_EQ(in_common(document.text(), more->text()), document.text().size());
            }
    }
    EXPECT_GT(added, 100);
    EXPECT_GT(removed, 1000);
    EXPECT_GT(appended, 50);
}

TEST(TomlEdit, DottedKeysStayBesideTheirLike) {
    const auto set = [](const std::string& text, const char* path) {
        const auto out = set_value(Document::parse(text), path, "2");
        return out ? out->text() : out.error();
    };
    EXPECT_EQ(set("[seat]\nintake.width = 1\n[z]\n", "seat.intake.angle"),
              "[seat]\nintake.width = 1\nintake.angle = 2\n[z]\n");
    EXPECT_EQ(set("[[s]]\n[[s]]\na.b = 1\n", "s[1].a.c"), "[[s]]\n[[s]]\na.b = 1\na.c = 2\n");
    EXPECT_EQ(set("a.b = 1\n[z]\n", "a.c"), "a.b = 1\na.c = 2\n[z]\n");
}

TEST(TomlEdit, TextsAtFaultAreLeftAlone) {
    const auto bad = Document::parse("a = 1\nb = ?\n");
    for (const auto& edited :
         {set_value(bad, "a", "2"), remove_value(bad, "a"), append_table(bad, "c", {})}) {
        ASSERT_FALSE(edited);
        EXPECT_EQ(edited.error(), "line 2: ? stands where a value is wanted");
    }
}

TEST(TomlEdit, ComparesByMeaning) {
    const auto same_text = [](const std::string& a, const std::string& b) {
        const auto x = Document::parse(a), y = Document::parse(b);
        return same(x.root(), y.root());
    };
    EXPECT_TRUE(same_text("a.b = 1\nc = 'x'\nn = nan\n", "c = \"x\" # y\nn = -nan\n[a]\nb = 0x1\n"));
    EXPECT_FALSE(same_text("a = 1\n", "a = 1.0\n"));
    EXPECT_FALSE(same_text("a = [1, 2]\n", "a = [2, 1]\n"));
    EXPECT_FALSE(same_text("a = [1, 2]\n", "a = [1, 2, 3]\n"));
    EXPECT_FALSE(same_text("a = {}\n", "a = []\n"));
    EXPECT_FALSE(same_text("a = 1979-05-27\n", "a = 1979-05-28\n"));
}

}  // namespace
}  // namespace seatwright::toml
