#include "seatwright/words/catalogue.hpp"

#include <fmt/format.h>

#include <set>
#include <stdexcept>

#include "seatwright/words/english_cut.hpp"
#include "seatwright/words/english_drawing.hpp"
#include "seatwright/words/english_find.hpp"
#include "seatwright/words/english_forecast.hpp"
#include "seatwright/words/english_hold.hpp"
#include "seatwright/words/english_job.hpp"
#include "seatwright/words/english_lists.hpp"
#include "seatwright/words/english_live.hpp"
#include "seatwright/words/english_papers.hpp"
#include "seatwright/words/english_place.hpp"
#include "seatwright/words/english_plan.hpp"
#include "seatwright/words/english_prove.hpp"
#include "seatwright/words/english_report.hpp"
#include "seatwright/words/english_scan.hpp"
#include "seatwright/words/english_server.hpp"
#include "seatwright/words/english_shape.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::words {

namespace {

std::set<std::string_view> names_in(std::string_view text) {
    std::set<std::string_view> out;
    for (Place p = next_place(text, 0); p.from < text.size(); p = next_place(text, p.to)) out.insert(p.name);
    return out;
}

}  // namespace

Catalogue::Catalogue(std::span<const Line> lines) : lines_(lines.begin(), lines.end()) {
    for (std::size_t i = 0; i < lines_.size(); ++i) by_id_.emplace(lines_[i].id, i);
}

const Line& Catalogue::line(std::string_view id) const {
    const auto at = by_id_.find(id);
    if (at == by_id_.end()) throw std::logic_error(fmt::format("no words for the sentence {}", id));
    return lines_[at->second];
}

std::string_view Catalogue::text(std::string_view id) const {
    return line(id).text;
}

std::string_view Catalogue::on_page(std::string_view id) const {
    const Line& of = line(id);
    return of.page.empty() ? of.text : of.page;
}

const Catalogue& english() {
    static const Catalogue all = [] {
        std::vector<Line> lines;
        const auto add = [&](std::span<const Line> table) {
            lines.insert(lines.end(), table.begin(), table.end());
        };
        add(words::english_table);
        add(job::english_table);
        add(find::english_table);
        add(shape::english_table);
        add(cut::english_table);
        add(prove::english_table);
        add(survey::english_table);
        add(forecast::english_table);
        add(plan::english_table);
        add(drawing::english_table);
        add(scan::english_table);
        add(hold::english_table);
        add(report::english_table);
        add(papers::english_table);
        add(live::english_table);
        add(place::english_table);
        add(server::english_table);
        return Catalogue(lines);
    }();
    return all;
}

std::vector<std::string> faults_of(std::span<const Line> lines) {
    std::vector<std::string> out;
    std::set<std::string_view> ids;
    for (const Line& line : lines)
        if (!ids.insert(line.id).second) out.push_back(fmt::format("{} stands twice", line.id));
    const Catalogue own(lines);
    for (const Line& line : english().lines()) {
        if (ids.erase(line.id) == 0)
            out.push_back(fmt::format("{} is missing", line.id));
        else if (names_in(own.text(line.id)) != names_in(line.text))
            out.push_back(fmt::format("{} does not name the values its English names", line.id));
        else if (names_in(own.on_page(line.id)) != names_in(line.page.empty() ? line.text : line.page))
            out.push_back(fmt::format("{} does not name on a page the values its English names", line.id));
        else if (!line.page.empty() && own.on_page(line.id) == own.text(line.id))
            out.push_back(fmt::format("{} says on a page what is for the file", line.id));
    }
    for (const std::string_view id : ids) out.push_back(fmt::format("{} is no sentence", id));
    return out;
}

}  // namespace seatwright::words
