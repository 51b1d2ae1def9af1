#include "seatwright/casting/casting.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <set>

#include "seatwright/casting/tables.hpp"
#include "seatwright/job/casting.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/walk.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::casting {
namespace {

class Exporter {
  public:
    Exporter(plan::Run& run, plan::Run& planned, const Texts& texts)
        : run_(run), planned_(planned), job_(run.job()), texts_(texts) {}

    Checked<Exported> take() {
        if (auto faults = describe(); !faults.empty()) return tl::unexpected(std::move(faults));
        begin();
        notes();
        past();
        learned();
        worked();
        depths();
        times();
        out_.records = out_.text;
        out_.text += "\n" + out_.description;
        return std::move(out_);
    }

  private:
    std::string length(double mm) const { return job::toml_length(mm, job_.units); }
    void line(const std::string& text) { out_.text += text + "\n"; }

    static bool cuts_seats(plan::Run& run) {
        return run.missing(job::Stage::cut).empty() && !run.cut().seats.empty();
    }

    // The head in hand may have nothing read of it yet: then the newest that can be planned. Null: none can.
    plan::Run* planned_head() {
        if (looked_) return head_run_;
        looked_ = true;
        if (cuts_seats(planned_)) return head_run_ = &planned_;
        const std::shared_ptr<const job::Job> whole(std::shared_ptr<void>(), &planned_.job());
        const auto& heads = planned_.job().heads();
        constexpr std::size_t most = 3;  // tried
        for (std::size_t k = 0; k < std::min(most, heads.size()); ++k) {
            own_run_ = std::make_unique<plan::Run>(whole, plan::Asked{heads[heads.size() - 1 - k], {}});
            if (cuts_seats(*own_run_)) return head_run_ = own_run_.get();
        }
        return nullptr;
    }

    // [casting] of the casting's own file; null where there is none.
    const job::Value* known_about() const { return known_ ? known_->root.table_of("casting") : nullptr; }

    Faults describe() {
        if (!texts_.casting.empty())
            if (auto known = job::read_casting(texts_.casting, texts_.casting_file))
                known_ = std::move(*known);

        const auto job =
            job::walk_document(job::read_text(texts_.job), job_.file, job::FileKind::job, LengthUnit::mm);
        job::Walked casting;
        if (!texts_.casting.empty())
            casting = job::walk_document(job::read_text(texts_.casting), texts_.casting_file,
                                         job::FileKind::job, LengthUnit::mm, job::casting_tree());
        if (!job.readable) return job.faults;
        if (!casting.faults.empty()) return casting.faults;
        const auto job_lines = lines_of(texts_.job), casting_lines = lines_of(texts_.casting);
        for (const char* name : {"head", "valve", "seat", "guide"}) {
            const auto* node = job::key_tree().child(name);
            const Entries known{casting.root.table_of(name), &casting_lines};
            out_.description +=
                table_text(name, {job.root.table_of(name), &job_lines}, known, *node, job_.units);
            out_.as_known += table_text(name, {}, known, *node, job_.units);
        }
        return {};
    }

    void begin() {
        out_.name = job_.head.name.empty() ? job_.title : job_.head.name;
        line(
            "# What is known of a casting: its description, what its heads have taught, what worked. Written "
            "by");
        line(
            "# seatwright casting; a job takes it in by casting = \"this file\". Shops can hand it on as it "
            "is.");
        line(fmt::format("units = \"{}\"\n", job_.units == LengthUnit::inch ? "in" : "mm"));
        line(fmt::format("[casting]\nform = {}", job::casting_form));
        line(fmt::format("name = {}", job::toml_string(out_.name)));
        const auto* known = known_about();
        const auto source = known != nullptr ? known->text_of("source") : std::nullopt;
        line(fmt::format(
            "source = {}",
            job::toml_string(source && out_.description == out_.as_known ? *source : "job " + job_.title)));
        if (!job_.fixture.name.empty() && job_.fixture_of_shelf)
            line(fmt::format("fixture = {}", job::toml_string(job_.fixture.name)));
        auto seconds = known != nullptr ? known->number_of("seconds_head").value_or(0) : 0;
        if (auto* plan = planned_head(); plan != nullptr && plan->cut().seconds_head > 0)
            seconds = plan->cut().seconds_head;
        if (seconds > 0) line(fmt::format("seconds_head = {:.0f}", seconds));
        if (known == nullptr) return;
        if (const auto number = known->text_of("number"))
            line(fmt::format("number = {}", job::toml_string(*number)));
        for (const char* list : {"notes", "photographs", "uncertainty"})
            if (const auto* texts = known->find(list)) {
                std::vector<std::string> items;
                for (const auto& item : texts->items) items.push_back(job::toml_string(item.text));
                line(fmt::format("{} = [{}]", list, fmt::join(items, ", ")));
            }
    }

    // What people noted of the casting stays, whatever its jobs teach.
    void notes() {
        const auto* known = known_about();
        if (known == nullptr) return;
        for (const auto* note : known->tables_of("note")) {
            line("\n[[casting.note]]");
            for (const char* key : {"words", "by", "at", "photograph", "jpeg"})
                if (const auto text = note->text_of(key))
                    line(fmt::format("{} = {}", key, job::toml_string(*text)));
        }
    }

    void past() {
        auto heads = find::heads_that_taught(job_, run_.hold());
        if (heads.size() > job::most_past_heads)
            heads.erase(heads.begin(), heads.end() - static_cast<std::ptrdiff_t>(job::most_past_heads));
        std::set<std::pair<std::string, std::string>> names;
        for (const auto& p : heads) {
            names.insert({p.from, p.head});
            std::vector<std::string> valves, x, y, sd;
            for (std::size_t i = 0; i < p.valves.size(); ++i) {
                valves.push_back(job::toml_string(p.valves[i]));
                x.push_back(length(p.off[i].x()));
                y.push_back(length(p.off[i].y()));
                sd.push_back(length(p.sd[i]));
            }
            line(fmt::format(
                "\n[[casting.past]]\nhead = {}\nfrom = {}\ntilt = \"{:.10g} deg\"\nswing = \"{:.10g} deg\"",
                job::toml_string(p.head), job::toml_string(p.from), deg(p.tilt) + 0.0, deg(p.swing) + 0.0));
            line(fmt::format("valves = [{}]\nx = [{}]\ny = [{}]\nsd = [{}]", fmt::join(valves, ", "),
                             fmt::join(x, ", "), fmt::join(y, ", "), fmt::join(sd, ", ")));
        }
        out_.heads = names.size();
    }

    // For people: what the past heads come to. Read again it is worked out anew.
    void learned() {
        if (!run_.missing(job::Stage::find).empty()) return;
        for (const auto& l : run_.find().learned)
            line(fmt::format(
                "\n[[casting.learned]]\nvalve = {}\nx = {}\ny = {}\nu = {}\nscatter = {}\ndof = {:.4g}",
                job::toml_string(job_.head.valves[l.valve].id), length(l.mean.x() * job_.machine.x_sign),
                length(l.mean.y() * job_.machine.y_sign), length(std::sqrt(0.5 * l.sd_of_mean.squaredNorm())),
                length(l.scatter), l.dof));
    }

    // Of the casting's file what other jobs have taught: a job's own is worked out anew.
    template <class Write>
    void carry(const char* table, const Write& write) const {
        const auto* about = known_about();
        if (about == nullptr) return;
        for (const auto* entry : about->tables_of(table)) {
            const auto from = entry->text_of("from");
            if (from && *from != job_.title) write(*entry, *from);
        }
    }

    // What cut the seats that passed: pilot, cutter, speed and feed of the plan, seats that passed as
    // counted.
    void worked() {
        carry("worked", [&](const job::Value& w, const std::string& from) {
            line(fmt::format("\n[[casting.worked]]\nkind = {}\nseats = {:.0f}\nfrom = {}",
                             job::toml_string(w.text_of("kind").value_or("")),
                             w.number_of("seats").value_or(0), job::toml_string(from)));
            for (const char* name : {"pilot", "cutter"})
                if (const auto text = w.text_of(name))
                    line(fmt::format("{} = {}", name, job::toml_string(*text)));
            if (const auto rpm = w.number_of("rpm")) line(fmt::format("rpm = {:.6g}", *rpm));
            if (const auto feed = w.number_of("feed")) line(fmt::format("feed = {}", length(*feed)));
        });
        if (!run_.missing(job::Stage::prove).empty()) return;
        job::PerKind<int> passed;
        for (const auto& seat : run_.proof().seats)
            if (seat.verdict == prove::Verdict::pass) ++passed[job_.head.valves[seat.valve].kind];
        out_.seats = static_cast<std::size_t>(passed.intake + passed.exhaust);
        auto* plan = planned_head();
        if (plan == nullptr) return;
        job::PerKind<bool> told;
        for (const auto& seat : plan->cut().seats) {
            const auto kind = job_.head.valves[seat.valve].kind;
            if (told[kind] || passed[kind] == 0) continue;
            told[kind] = true;
            line(fmt::format("\n[[casting.worked]]\nkind = \"{}\"\nseats = {}\nfrom = {}",
                             job::kind_word(kind), passed[kind], job::toml_string(job_.title)));
            if (seat.pilot) line(fmt::format("pilot = {}", job::toml_string(job_.pilots[*seat.pilot].name)));
            for (const auto& shaped : plan->shape().seats)
                if (shaped.valve == seat.valve && shaped.cutter)
                    line(fmt::format("cutter = {}", job::toml_string(job_.cutters[*shaped.cutter].name)));
            line(fmt::format("rpm = {:.6g}\nfeed = {}", seat.rpm, length(seat.feed)));
        }
    }

    void depth(const std::string& head, const std::string& valve, double mm, const std::string& from) {
        ++out_.depths;
        line(fmt::format("\n[[casting.depth]]\nhead = {}\nvalve = {}\ndepth = {}\nfrom = {}",
                         job::toml_string(head), job::toml_string(valve), length(mm),
                         job::toml_string(from)));
    }

    void depths() {
        carry("depth", [&](const job::Value& d, const std::string& from) {
            depth(d.text_of("head").value_or(""), d.text_of("valve").value_or(""),
                  d.number_of("depth").value_or(0), from);
        });
        for (const auto& after : job_.readings.proofs) {
            if (!after.stem_height) continue;
            for (const auto& before : job_.readings.seats) {
                if (before.head != after.head || before.valve != after.valve || !before.stem_height) continue;
                depth(after.head, after.valve, *after.stem_height - *before.stem_height, job_.title);
                break;
            }
        }
    }

    void time(const std::string& head, double seconds, const std::string& from) {
        ++out_.times;
        line(fmt::format("\n[[casting.time]]\nhead = {}\nseconds = {:.0f}\nfrom = {}", job::toml_string(head),
                         seconds, job::toml_string(from)));
    }

    void times() {
        carry("time", [&](const job::Value& t, const std::string& from) {
            time(t.text_of("head").value_or(""), t.number_of("seconds").value_or(0), from);
        });
        for (const auto& t : texts_.times) time(t.head, t.seconds, job_.title);
    }

    plan::Run& run_;
    plan::Run& planned_;
    std::unique_ptr<plan::Run> own_run_;
    plan::Run* head_run_ = nullptr;
    bool looked_ = false;
    const job::Job& job_;
    const Texts& texts_;
    std::optional<job::Casting> known_;
    Exported out_;
};

}  // namespace

Checked<Exported> exported(plan::Run& run, const Texts& texts, plan::Run* planned) {
    auto out = Exporter(run, planned != nullptr ? *planned : run, texts).take();
    if (out)
        if (const auto read = job::read_casting(out->text, "casting.toml"); !read)
            require(false, "a casting written here reads without faults: " + to_line(read.error().front()));
    return out;
}

}  // namespace seatwright::casting
