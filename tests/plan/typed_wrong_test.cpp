// Every figure of the invented example jobs, typed wrong in the ways figures are (common practice): the
// decimal point elsewhere, the other unit, a sign, two digits changed round. Whatever is said of it then,
// nothing is written for the machine past a STOP; a job that cannot be planned is refused with a reason.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cctype>
#include <random>

#include "draws.hpp"
#include "past_a_stop.hpp"
#include "seatwright/plan/run.hpp"
#include "typed_job.hpp"

namespace seatwright::plan {
namespace {

struct Place {
    std::size_t from = 0, size = 0;  // in the text
};

// Figures by themselves, no part of a name, a date or a word; nothing of comments.
std::vector<Place> figures_in(const std::string& text) {
    std::vector<Place> out;
    const auto part_of_word = [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '_' || c == '-' ||
               c == ':';
    };
    bool comment = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\n') comment = false;
        if (text[i] == '#') comment = true;
        if (comment || std::isdigit(static_cast<unsigned char>(text[i])) == 0) continue;
        std::size_t from = i;
        if (from > 0 && text[from - 1] == '-') --from;
        std::size_t end = i;
        while (end < text.size() &&
               (std::isdigit(static_cast<unsigned char>(text[end])) != 0 || text[end] == '.'))
            ++end;
        const bool free =
            (from == 0 || !part_of_word(text[from - 1])) && (end == text.size() || !part_of_word(text[end]));
        const bool named = from > 0 && text[from - 1] == '"' && end < text.size() && text[end] == '"';
        if (free && !named) out.push_back({from, end - from});
        i = end - 1;
    }
    return out;
}

std::vector<std::string> typed_wrong(const std::string& figure) {
    std::vector<std::string> out;
    const double value = std::stod(figure);
    for (const double factor : {10.0, 0.1, 25.4, 1 / 25.4, -1.0})
        if (value != 0) out.push_back(fmt::format("{:.6g}", value * factor));
    for (std::size_t i = 0; i + 1 < figure.size(); ++i) {
        if (std::isdigit(static_cast<unsigned char>(figure[i])) == 0 ||
            std::isdigit(static_cast<unsigned char>(figure[i + 1])) == 0 || figure[i] == figure[i + 1])
            continue;
        std::string turned = figure;
        std::swap(turned[i], turned[i + 1]);
        if (turned[0] != '0' || turned.starts_with("0.")) out.push_back(std::move(turned));
        break;
    }
    return out;
}

TEST(TypedWrong, NothingIsWrittenPastAStop) {
    const job::Fetch fetch = [shop = fixtures::text_of("shop/shop.toml")](
                                 const std::string&) -> tl::expected<std::string, std::string> {
        return shop;
    };
    std::mt19937 random(13);
    int refused = 0, held = 0, asked = 0, written = 0;
    for (const char* example : {"wedge", "canted", "pent-roof"}) {
        const std::string file = std::string("examples/") + example + "/job.toml";
        const std::string text = fixtures::text_of(file);
        for (const Place& place : figures_in(text)) {
            for (const std::string& wrong : typed_wrong(text.substr(place.from, place.size))) {
                if (std::uniform_int_distribution<int>(0, 99)(random) >= drawn(12, 100, 3)) continue;
                std::string typed = text;
                typed.replace(place.from, place.size, wrong);
                const auto where = [&] {
                    const std::size_t line = typed.rfind('\n', place.from) + 1;
                    return std::string(example) + ": " + typed.substr(line, typed.find('\n', line) - line);
                };
                const auto job = job::read_job(typed, file, fetch);
                if (!job) {
                    ++refused;
                    EXPECT_FALSE(job.error().front().text.empty()) << where();
                    continue;
                }
                plan::Run run(std::make_shared<const job::Job>(*job), {});
                if (!run.missing(job::Stage::cut).empty()) {
                    ++refused;
                    continue;
                }
                const Plan plan = run.plan();
                const auto past = fixtures::past_a_stop(plan);
                EXPECT_FALSE(past) << where() << "\n  " << past.value_or("");
                (plan.cut.programs.empty() ? held : !plan.cut.held_back.empty() ? asked : written) += 1;
            }
        }
    }
    std::printf("%d refused, %d without a program, %d with a seat held back, %d written whole\n", refused,
                held, asked, written);
    EXPECT_GT(refused + held + asked, 50);
    EXPECT_GT(written, 50);
}

}  // namespace
}  // namespace seatwright::plan
