#include "seatwright/drawing/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "seatwright/drawing/entity.hpp"
#include "seatwright/drawing/groups.hpp"

namespace seatwright::drawing {
namespace {

class Reader {
  public:
    Reader(Groups groups) : groups_(std::move(groups)) {}

    Checked<Sheet> take() {
        bool ended = false;
        while (auto g = groups_.next()) {
            if (g->code != 0) {
                if (sections_ == 0)
                    groups_.fault(fmt::format(
                        "a section is expected here, not group code {}: this is no DXF drawing", g->code));
                continue;
            }
            if (g->text == "EOF") {
                ended = true;
                break;
            }
            if (g->text != "SECTION") {
                if (sections_ == 0) groups_.fault("a section is expected here: this is no DXF drawing");
                continue;
            }
            const auto name = groups_.next();
            if (!name) break;
            if (name->code != 2) {
                groups_.fault("the name of a section (group code 2) is expected here");
                break;
            }
            ++sections_;
            section_ = name->text;
            section();
        }
        if (!groups_.broken() && !ended)
            groups_.fault(sections_ == 0
                              ? std::string("no section is in it: this is no DXF drawing")
                              : fmt::format("the file ends {} without EOF: it was cut short",
                                            section_.empty() ? "between its sections"
                                                             : "in its section " + name_of(section_)));
        if (groups_.broken()) return tl::unexpected(groups_.faults());
        sheet_.finest = groups_.finest();
        return std::move(sheet_);
    }

  private:
    // Up to ENDSEC. A file that ends before is told by take(), which then finds no EOF.
    void section() {
        if (section_ == "HEADER") return header();
        if (section_ == "TABLES") return tables();
        if (section_ == "BLOCKS") return blocks();
        if (section_ == "ENTITIES") return entities();
        while (const auto g = groups_.next())
            if (ends(*g)) return;
    }

    bool ends(const CodedValue& g) {
        if (g.code != 0 || g.text != "ENDSEC") return false;
        section_.clear();
        return true;
    }

    void header() {
        std::string variable;
        while (const auto g = groups_.next()) {
            if (ends(*g)) return;
            if (g->code == 9) {
                variable = g->text;
            } else if (variable == "$INSUNITS" && g->code == 70) {
                sheet_.unit = static_cast<int>(g->number);
            } else if (variable == "$MEASUREMENT" && g->code == 70) {
                sheet_.metric = g->number != 0;
            }
        }
    }

    void tables() {
        bool layer = false;
        std::string name;
        while (const auto g = groups_.next()) {
            if (ends(*g)) return;
            if (g->code == 0) {
                layer = g->text == "LAYER";
                name.clear();
            } else if (layer && g->code == 2) {
                name = name_of(g->text);
                sheet_.layers[name];
            } else if (layer && !name.empty() && g->code == 70) {
                sheet_.layers[name].frozen = (static_cast<int>(g->number) & 1) != 0;
            } else if (layer && !name.empty() && g->code == 62) {
                sheet_.layers[name].off = g->number < 0;
            }
        }
    }

    void blocks() {
        constexpr int another_file = 4 | 8;
        while (const auto g = groups_.next()) {
            if (ends(*g)) return;
            if (g->code != 0 || g->text != "BLOCK") continue;
            Gathered all;
            std::string name;
            while (const auto h = groups_.next()) {
                if (h->code == 0) {
                    groups_.back();
                    break;
                }
                if (h->code == 2) name = name_of(h->text);
                if (h->code == 10) all.block.base.x() = h->number;
                if (h->code == 20) all.block.base.y() = h->number;
                if (h->code == 30) all.block.base.z() = h->number;
                if (h->code == 70) all.block.elsewhere = (static_cast<int>(h->number) & another_file) != 0;
            }
            // What stands in the paper's own block is paper space.
            std::string lower = name;
            std::transform(lower.begin(), lower.end(), lower.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
            while (const auto h = groups_.next()) {
                if (h->code != 0) continue;
                if (h->text == "ENDBLK") break;
                if (h->text == "ENDSEC" || h->text == "EOF" || h->text == "SECTION") {
                    groups_.back();
                    break;
                }
                read_entity(groups_, h->text, all, sheet_);
            }
            close(all);
            if (lower.starts_with("*paper_space")) {
                sheet_.in_paper += all.block.curves.size() + all.block.inserts.size();
                continue;
            }
            sheet_.blocks.insert_or_assign(name, std::move(all.block));
        }
    }

    void entities() {
        Gathered all;
        while (const auto g = groups_.next()) {
            if (ends(*g)) break;
            if (g->code == 0) read_entity(groups_, g->text, all, sheet_);
        }
        close(all);
        auto& model = sheet_.model;
        model.curves.insert(model.curves.end(), all.block.curves.begin(), all.block.curves.end());
        model.inserts.insert(model.inserts.end(), all.block.inserts.begin(), all.block.inserts.end());
    }

    static void close(Gathered& all) {
        for (auto& curve : joined(all.pieces)) all.block.curves.push_back(std::move(curve));
        all.pieces.clear();
    }

    Groups groups_;
    Sheet sheet_;
    std::string section_;
    int sections_ = 0;
};

}  // namespace

Checked<Sheet> read_sheet(std::string_view bytes, const std::string& file) {
    auto groups = Groups::open(bytes, file);
    if (!groups) return tl::unexpected(groups.error());
    return Reader(std::move(*groups)).take();
}

}  // namespace seatwright::drawing
