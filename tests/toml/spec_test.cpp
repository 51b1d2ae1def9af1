// The examples of the TOML 1.0.0 specification (https://toml.io/en/v1.0.0), written down from memory: what is
// valid there has these values, what is called invalid there is refused.
#include <gtest/gtest.h>

#include <cmath>
#include <deque>
#include <limits>

#include "seatwright/toml/document.hpp"
#include "seatwright/toml/path.hpp"

namespace seatwright::toml {
namespace {

// Kept to the end of the program, as its values are views.
const Document& good(const std::string& text) {
    static std::deque<Document> kept;
    const Document& out = kept.emplace_back(Document::parse(text));
    EXPECT_TRUE(out.is_good()) << text << (out.is_good() ? "" : out.faults()[0].text);
    return out;
}

// Quoted names are no part of a path; find them one by one.
Value at(const Document& document, const std::vector<std::string>& names) {
    Value out = document.root();
    for (const auto& name : names) out = out.find(name);
    return out;
}

void expect_refused(const std::string& text, Cause cause = Cause::grammar) {
    const auto document = Document::parse(text);
    ASSERT_FALSE(document.is_good()) << text;
    EXPECT_EQ(document.faults()[0].cause, cause) << text << document.faults()[0].text;
    EXPECT_EQ(document.text(), text);
}

TEST(Spec, CommentsAndKeys) {
    EXPECT_EQ(
        at(good("# This is a full-line comment\nkey = \"value\"  # This is a comment at the end of a line\n"
                "another = \"# This is not a comment\"\n"),
           {"another"})
            .text(),
        "# This is not a comment");
    expect_refused("key = # INVALID\n");
    expect_refused("first = \"Tom\" last = \"Preston-Werner\" # INVALID\n");
    const auto& bare =
        good("key = \"value\"\nbare_key = \"value\"\nbare-key = \"value\"\n1234 = \"value\"\n");
    EXPECT_EQ(bare.root().size(), 4u);
    EXPECT_EQ(at(bare, {"1234"}).text(), "value");
    const auto& quoted = good(
        "\"127.0.0.1\" = \"value\"\n\"character encoding\" = \"value\"\n\"ʎǝʞ\" = \"value\"\n"
        "'key2' = \"value\"\n'quoted \"value\"' = \"value\"\n");
    for (const char* name : {"127.0.0.1", "character encoding", "ʎǝʞ", "key2", "quoted \"value\""})
        EXPECT_EQ(at(quoted, {name}).text(), "value") << name;
    expect_refused("= \"no key name\"  # INVALID\n");
    EXPECT_TRUE(at(good("\"\" = \"blank\"     # VALID but discouraged\n"), {""}));
    EXPECT_TRUE(at(good("'' = 'blank'     # VALID but discouraged\n"), {""}));
}

TEST(Spec, DottedKeys) {
    const auto& fruit = good(
        "name = \"Orange\"\nphysical.color = \"orange\"\nphysical.shape = \"round\"\n"
        "site.\"google.com\" = true\n");
    EXPECT_EQ(at(fruit, {"physical", "shape"}).text(), "round");
    EXPECT_EQ(at(fruit, {"site", "google.com"}).flag(), true);
    const auto& blanks = good(
        "fruit.name = \"banana\"     # this is best practice\n"
        "fruit. color = \"yellow\"    # same as fruit.color\n"
        "fruit . flavor = \"banana\"   # same as fruit.flavor\n");
    EXPECT_EQ(at(blanks, {"fruit"}).size(), 3u);
    expect_refused("name = \"Tom\"\nname = \"Pradyun\"\n", Cause::twice);
    expect_refused("spelling = \"favorite\"\n\"spelling\" = \"favourite\"\n", Cause::twice);
    EXPECT_EQ(at(good("fruit.apple.smooth = true\nfruit.orange = 2\n"), {"fruit", "orange"}).integer(), 2);
    expect_refused("fruit.apple = 1\nfruit.apple.smooth = true\n", Cause::twice);
    const auto& out_of_order = good(
        "apple.type = \"fruit\"\norange.type = \"fruit\"\napple.skin = \"thin\"\n"
        "orange.skin = \"thick\"\napple.color = \"red\"\n");
    EXPECT_EQ(at(out_of_order, {"apple"}).size(), 3u);
    EXPECT_EQ(at(good("3.14159 = \"pi\"\n"), {"3", "14159"}).text(), "pi");
}

TEST(Spec, Strings) {
    const auto one = [](const std::string& literal) {
        return at(good("s = " + literal + "\n"), {"s"}).text();
    };
    EXPECT_EQ(one("\"I'm a string. \\\"You can quote me\\\". Name\\tJos\\u00E9\\nLocation\\tSF.\""),
              "I'm a string. \"You can quote me\". Name\tJosé\nLocation\tSF.");
    EXPECT_EQ(one("\"\"\"\nRoses are red\nViolets are blue\"\"\""), "Roses are red\nViolets are blue");
    const std::string fox = "The quick brown fox jumps over the lazy dog.";
    EXPECT_EQ(one("\"\"\"\nThe quick brown \\\n\n\n  fox jumps over \\\n    the lazy dog.\"\"\""), fox);
    EXPECT_EQ(one("\"\"\"\\\n       The quick brown \\\n       fox jumps over \\\n       the lazy dog.\\\n   "
                  "    \"\"\""),
              fox);
    EXPECT_EQ(one("\"\"\"Here are two quotation marks: \"\". Simple enough.\"\"\""),
              "Here are two quotation marks: \"\". Simple enough.");
    expect_refused("str5 = \"\"\"Here are three quotation marks: \"\"\".\"\"\"\n");
    EXPECT_EQ(one("\"\"\"Here are fifteen quotation marks: "
                  "\"\"\\\"\"\"\\\"\"\"\\\"\"\"\\\"\"\"\\\".\"\"\""),
              "Here are fifteen quotation marks: \"\"\"\"\"\"\"\"\"\"\"\"\"\"\".");
    EXPECT_EQ(one("\"\"\"\"This,\" she said, \"is just a pointless statement.\"\"\"\""),
              "\"This,\" she said, \"is just a pointless statement.\"");
    EXPECT_EQ(one("'C:\\Users\\nodejs\\templates'"), "C:\\Users\\nodejs\\templates");
    EXPECT_EQ(one("'<\\i\\c*\\s*>'"), "<\\i\\c*\\s*>");
    EXPECT_EQ(one("'''I [dw]on't need \\d{2} apples'''"), "I [dw]on't need \\d{2} apples");
    EXPECT_EQ(one("'''\nThe first newline is\ntrimmed in raw strings.\n   All other whitespace\n   is "
                  "preserved.\n'''"),
              "The first newline is\ntrimmed in raw strings.\n   All other whitespace\n   is preserved.\n");
    EXPECT_EQ(one("'''Here are fifteen quotation marks: \"\"\"\"\"\"\"\"\"\"\"\"\"\"\"'''"),
              "Here are fifteen quotation marks: \"\"\"\"\"\"\"\"\"\"\"\"\"\"\"");
    EXPECT_EQ(one("\"\"\"\r\n\na\"\"\""), "\na") << "one line end is not part of it";
    expect_refused("apos15 = '''Here are fifteen apostrophes: ''''''''''''''''''  # INVALID\n");
    EXPECT_EQ(one("''''That,' she said, 'is still pointless.''''"),
              "'That,' she said, 'is still pointless.'");
    EXPECT_EQ(one("\"\\b\\t\\n\\f\\r\\\"\\\\\\u0041\\U00000041\""), "\b\t\n\f\r\"\\AA");
    for (const char* bad :
         {"\"\\a\"", "\"\\x41\"", "\"\\uD800\"", "\"\\U00110000\"", "\"\\u004\"", "\"a\nb\"", "'it's'"})
        expect_refused(std::string("s = ") + bad + "\n");
    expect_refused(std::string("s = \"\x01\"\n"), Cause::bytes);
}

TEST(Spec, Numbers) {
    const auto one = [](const std::string& literal) { return at(good("n = " + literal + "\n"), {"n"}); };
    const std::pair<const char*, std::int64_t> whole[] = {
        {"+99", 99},
        {"42", 42},
        {"0", 0},
        {"-17", -17},
        {"1_000", 1000},
        {"5_349_221", 5349221},
        {"53_49_221", 5349221},
        {"1_2_3_4_5", 12345},
        {"-0", 0},
        {"+0", 0},
        {"0xDEADBEEF", 0xDEADBEEF},
        {"0xdeadbeef", 0xDEADBEEF},
        {"0xdead_beef", 0xDEADBEEF},
        {"0o01234567", 01234567},
        {"0o755", 0755},
        {"0b11010110", 0b11010110},
        {"9223372036854775807", std::numeric_limits<std::int64_t>::max()},
        {"-9223372036854775808", std::numeric_limits<std::int64_t>::min()}};
    for (const auto& [literal, value] : whole) {
        EXPECT_EQ(one(literal).integer(), value) << literal;
        EXPECT_EQ(one(literal).number(), static_cast<double>(value)) << literal;
    }
    const std::pair<const char*, double> floats[] = {{"+1.0", 1},
                                                     {"3.1415", 3.1415},
                                                     {"-0.01", -0.01},
                                                     {"5e+22", 5e22},
                                                     {"1e06", 1e6},
                                                     {"-2E-2", -2e-2},
                                                     {"6.626e-34", 6.626e-34},
                                                     {"224_617.445_991_228", 224617.445991228},
                                                     {"1e1_0", 1e10}};
    for (const auto& [literal, value] : floats) {
        EXPECT_EQ(one(literal).number(), value) << literal;
        EXPECT_EQ(one(literal).kind(), Kind::number) << literal;
        EXPECT_FALSE(one(literal).integer());
    }
    for (const char* inf : {"inf", "+inf", "-inf"}) EXPECT_TRUE(std::isinf(*one(inf).number()));
    EXPECT_LT(*one("-inf").number(), 0);
    for (const char* nan : {"nan", "+nan", "-nan"}) EXPECT_TRUE(std::isnan(*one(nan).number()));
    EXPECT_TRUE(std::signbit(*one("-0.0").number()));
    for (const char* bad : {".7", "7.", "3.e+20", "0755", "_1", "1_", "1__0", "0x", "0xg", "-0x1", "0X1F",
                            "0b2", "1.2.3", "+ 1", "Inf", "NaN", "e5", "1e", "1e5.0"})
        expect_refused(std::string("n = ") + bad + "\n");
    expect_refused("n = 9223372036854775808\n", Cause::value);
    expect_refused("n = -0x1\n");
}

TEST(Spec, BooleansAndMoments) {
    const auto one = [](const std::string& literal) { return at(good("m = " + literal + "\n"), {"m"}); };
    EXPECT_EQ(one("true").flag(), true);
    EXPECT_EQ(one("false").flag(), false);
    const Date day{1979, 5, 27};
    const Time morning{7, 32, 0, 0};
    EXPECT_EQ(one("1979-05-27T07:32:00Z").moment(), (Moment{day, morning, 0}));
    EXPECT_EQ(one("1979-05-27T00:32:00-07:00").moment(), (Moment{day, Time{0, 32, 0, 0}, -420}));
    EXPECT_EQ(one("1979-05-27T00:32:00.999999-07:00").moment(),
              (Moment{day, Time{0, 32, 0, 999999000}, -420}));
    EXPECT_EQ(one("1979-05-27 07:32:00Z").moment(), (Moment{day, morning, 0}));
    EXPECT_EQ(one("1979-05-27T07:32:00").moment(), (Moment{day, morning, {}}));
    EXPECT_EQ(one("1979-05-27T00:32:00.999999").moment(), (Moment{day, Time{0, 32, 0, 999999000}, {}}));
    EXPECT_EQ(one("1979-05-27").moment(), (Moment{day, {}, {}}));
    EXPECT_EQ(one("07:32:00").moment(), (Moment{{}, morning, {}}));
    EXPECT_EQ(one("00:32:00.999999").moment(), (Moment{{}, Time{0, 32, 0, 999999000}, {}}));
    for (const char* bad :
         {"1979-02-30", "1979-13-01", "24:00:00", "07:32", "1979-05-27T", "79-05-27", "07:32:00Z"})
        expect_refused(std::string("m = ") + bad + "\n");
}

TEST(Spec, ArraysAndInlineTables) {
    const auto& arrays = good(
        "integers = [ 1, 2, 3 ]\ncolors = [ \"red\", \"yellow\", \"green\" ]\n"
        "nested_arrays_of_ints = [ [ 1, 2 ], [3, 4, 5] ]\nnested_mixed_array = [ [ 1, 2 ], [\"a\", \"b\", "
        "\"c\"] ]\n"
        "string_array = [ \"all\", 'strings', \"\"\"are the same\"\"\", '''type''' ]\n"
        "numbers = [ 0.1, 0.2, 0.5, 1, 2, 5 ]\ncontributors = [\n  \"Foo Bar <foo@example.com>\",\n"
        "  { name = \"Baz Qux\", email = \"bazqux@example.com\", url = \"https://example.com/bazqux\" }\n]\n"
        "integers2 = [\n  1, 2, 3\n]\nintegers3 = [\n  1,\n  2, # this is ok\n]\n");
    EXPECT_EQ(find(arrays.root(), *parse_path("nested_arrays_of_ints[1][2]")).integer(), 5);
    EXPECT_EQ(find(arrays.root(), *parse_path("string_array[2]")).text(), "are the same");
    EXPECT_EQ(find(arrays.root(), *parse_path("numbers[4]")).kind(), Kind::integer);
    EXPECT_EQ(find(arrays.root(), *parse_path("contributors[1].name")).text(), "Baz Qux");
    EXPECT_EQ(at(arrays, {"integers3"}).size(), 2u);
    const auto& inlines = good(
        "name = { first = \"Tom\", last = \"Preston-Werner\" }\npoint = { x = 1, y = 2 }\n"
        "animal = { type.name = \"pug\" }\n");
    EXPECT_EQ(at(inlines, {"animal", "type", "name"}).text(), "pug");
    expect_refused("[product]\ntype = { name = \"Nail\" }\ntype.edible = false  # INVALID\n", Cause::twice);
    expect_refused("[product]\ntype.name = \"Nail\"\ntype = { edible = false }  # INVALID\n", Cause::twice);
    const auto& points = good(
        "points = [ { x = 1, y = 2, z = 3 },\n           { x = 7, y = 8, z = 9 },\n"
        "           { x = 2, y = 4, z = 8 } ]\n");
    EXPECT_EQ(find(points.root(), *parse_path("points[2].z")).integer(), 8);
    expect_refused("t = { a = 1, }\n");
    expect_refused("t = { a = 1\n}\n");
}

TEST(Spec, Tables) {
    const auto& tables = good(
        "[table-1]\nkey1 = \"some string\"\nkey2 = 123\n\n[table-2]\nkey1 = \"another string\"\n"
        "key2 = 456\n[dog.\"tater.man\"]\ntype.name = \"pug\"\n[a.b.c]\n[ d.e.f ]\n[ g .  h  . i ]\n"
        "[ j . \"ʞ\" . 'l' ]\n");
    EXPECT_EQ(at(tables, {"table-2", "key2"}).integer(), 456);
    EXPECT_EQ(at(tables, {"dog", "tater.man", "type", "name"}).text(), "pug");
    EXPECT_EQ(at(tables, {"j", "ʞ", "l"}).kind(), Kind::table);
    EXPECT_EQ(at(good("[x.y.z.w] # for this to work\n[x] # defining a super-table afterward is ok\n"), {"x"})
                  .kind(),
              Kind::table);
    expect_refused("[fruit]\napple = \"red\"\n\n[fruit]\norange = \"orange\"\n", Cause::twice);
    expect_refused("[fruit]\napple = \"red\"\n\n[fruit.apple]\ntexture = \"smooth\"\n", Cause::twice);
    good("[fruit.apple]\n[animal]\n[fruit.orange]\n");
    const auto& root = good(
        "# Top-level table begins.\nname = \"Fido\"\nbreed = \"pug\"\n\n# Top-level table ends.\n"
        "[owner]\nname = \"Regina Dogman\"\nmember_since = 1999-08-04\n");
    EXPECT_EQ(at(root, {"owner", "member_since"}).moment(), (Moment{Date{1999, 8, 4}, {}, {}}));
    const std::string fruit = "[fruit]\napple.color = \"red\"\napple.taste.sweet = true\n\n";
    expect_refused(fruit + "[fruit.apple]  # INVALID\n", Cause::twice);
    expect_refused(fruit + "[fruit.apple.taste]  # INVALID\n", Cause::twice);
    EXPECT_EQ(at(good(fruit + "[fruit.apple.texture]  # you can add sub-tables\nsmooth = true\n"),
                 {"fruit", "apple", "texture", "smooth"})
                  .flag(),
              true);
    expect_refused("[]\n");
    expect_refused("[a.]\n");
    expect_refused("[a]]\n");
}

TEST(Spec, ArraysOfTables) {
    const auto& products = good(
        "[[products]]\nname = \"Hammer\"\nsku = 738594937\n\n[[products]]  # empty table within "
        "the array\n\n[[products]]\nname = \"Nail\"\nsku = 284758393\n\ncolor = \"gray\"\n");
    EXPECT_EQ(at(products, {"products"}).size(), 3u);
    EXPECT_EQ(find(products.root(), *parse_path("products[1]")).size(), 0u);
    EXPECT_EQ(find(products.root(), *parse_path("products[2].color")).text(), "gray");
    const auto& fruits = good(
        "[[fruits]]\nname = \"apple\"\n\n[fruits.physical]  # subtable\ncolor = \"red\"\nshape = "
        "\"round\"\n\n[[fruits.varieties]]  # nested array of tables\nname = \"red delicious\"\n\n"
        "[[fruits.varieties]]\nname = \"granny smith\"\n\n\n[[fruits]]\nname = \"banana\"\n\n"
        "[[fruits.varieties]]\nname = \"plantain\"\n");
    EXPECT_EQ(find(fruits.root(), *parse_path("fruits[0].varieties[1].name")).text(), "granny smith");
    EXPECT_EQ(find(fruits.root(), *parse_path("fruits[1].varieties[0].name")).text(), "plantain");
    expect_refused(
        "[fruit.physical]  # subtable, but to which parent element should it belong?\ncolor = \"red\"\nshape "
        "= \"round\"\n\n[[fruit]]  # parser must throw an error\nname = \"apple\"\n",
        Cause::twice);
    expect_refused("fruits = []\n\n[[fruits]] # Not allowed\n", Cause::twice);
    expect_refused(
        "[[fruits]]\nname = \"apple\"\n\n[[fruits.varieties]]\nname = \"red delicious\"\n\n# INVALID: This "
        "table conflicts with the previous array of tables\n[fruits.varieties]\nname = \"granny smith\"\n",
        Cause::twice);
    expect_refused(
        "[[fruits]]\nname = \"apple\"\n\n[fruits.physical]\ncolor = \"red\"\nshape = \"round\"\n\n"
        "# INVALID: This array of tables conflicts with the previous table\n[[fruits.physical]]\ncolor = "
        "\"green\"\n",
        Cause::twice);
}

}  // namespace
}  // namespace seatwright::toml
