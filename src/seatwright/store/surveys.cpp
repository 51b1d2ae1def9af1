#include "seatwright/store/surveys.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

// ", from mill readout, stood still …" of a reading that came by itself.
std::string source_words(const Json& values) {
    const auto from = values.find("from");
    return from != values.end() && from->is_string() ? ", " + from->get<std::string>() : std::string();
}

// "a size: bore 1I", of what was read or said.
std::string named_in_words(const std::string& kind, const Json& values) {
    static const std::map<std::string, std::string> words = {{"point", "a place"},
                                                             {"level", "a lean"},
                                                             {"size", "a size"},
                                                             {"setup", "a setup"},
                                                             {"head", "an answer"},
                                                             {"way", "how guides lean"},
                                                             {"left out", "what is left out"}};
    const auto word = words.find(kind);
    std::string which;
    for (const char* key : {"what", "id", "letters", "setup", "key"})
        if (const auto at = values.find(key); at != values.end() && at->is_string())
            which += (which.empty() ? ": " : " ") + at->get<std::string>();
    return (word != words.end() ? word->second : "a " + kind) + which;
}

std::vector<SurveyRow> select_surveys(Sql& sql, const std::string& condition, long long bind) {
    SurveyRow row;
    std::string units;
    NullableNumber job;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select s.id, s.title, s.units, s.sequence, s.made_ms, s.changed_ms, p.name, s.job_id "
                "from survey s join person p on p.id = s.changed_by where s.shop = :shop and " +
                    condition + " order by s.changed_ms desc, s.id desc",
         soci::use(shop), soci::use(bind), soci::into(row.id), soci::into(row.title), soci::into(units),
         soci::into(row.sequence), soci::into(row.made_ms), soci::into(row.changed_ms),
         soci::into(row.changed_by), soci::into(job.value, job.state));
    std::vector<SurveyRow> all;
    rows.execute();
    while (rows.fetch()) {
        row.units = units == "in" ? LengthUnit::inch : LengthUnit::mm;
        row.job = job.get();
        all.push_back(row);
    }
    return all;
}

std::optional<SurveyRow> survey_by_id(Sql& sql, long long id) {
    const auto found = select_surveys(sql, "s.id = :id", id);
    return found.empty() ? std::nullopt : std::optional(found.front());
}

std::vector<SurveyEntry> select_entries(Sql& sql, long long survey) {
    SurveyEntry e;
    std::string content;
    NullableNumber said, corrects;
    long long withdrawn = 0;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select e.id, e.sequence, e.client_key, e.kind, e.content, e.made_ms, p.name, e.said_ms, "
                "e.corrects, e.is_withdrawn from survey_entry e join person p on p.id = e.made_by where "
                "e.shop = :shop and e.survey_id = :survey order by e.sequence",
         soci::use(shop), soci::use(survey), soci::into(e.id), soci::into(e.sequence),
         soci::into(e.client_key), soci::into(e.kind), soci::into(content), soci::into(e.at_ms),
         soci::into(e.by), soci::into(said.value, said.state), soci::into(corrects.value, corrects.state),
         soci::into(withdrawn));
    std::vector<SurveyEntry> all;
    rows.execute();
    while (rows.fetch()) {
        e.survey = survey;
        e.values = Json::parse(content);
        e.said_ms = said.get();
        e.corrects = corrects.get();
        e.withdrawn = withdrawn != 0;
        all.push_back(e);
    }
    return all;
}

SurveyEntry insert_entry(Sql& sql, const Person& by, long long survey, long long sequence,
                         const NewSurveyEntry& given) {
    SurveyEntry e;
    static_cast<NewSurveyEntry&>(e) = given;
    e.survey = survey;
    e.sequence = sequence;
    e.at_ms = now_ms();
    e.by = by.name;
    const std::string content = e.values.dump();
    NullableNumber said(e.said_ms), corrects(e.corrects);
    const long long shop = sql.shop(), withdrawn = e.withdrawn ? 1 : 0;
    sql << "insert into survey_entry (shop, survey_id, sequence, client_key, kind, content, made_by, "
           "made_ms, "
           "said_ms, corrects, is_withdrawn) values (:shop, :survey, :sequence, :key, :kind, :content, :by, "
           ":now, :said, :corrects, :withdrawn) returning id",
        soci::use(shop), soci::use(survey), soci::use(sequence), soci::use(e.client_key), soci::use(e.kind),
        soci::use(content), soci::use(by.id), soci::use(e.at_ms), soci::use(said.value, said.state),
        soci::use(corrects.value, corrects.state), soci::use(withdrawn), soci::into(e.id);
    return e;
}

std::optional<long long> survey_under(Sql& sql, const std::string& client_key) {
    long long id = 0;
    const long long shop = sql.shop();
    sql << "select survey_id from survey_entry where shop = :shop and client_key = :key and sequence = 1",
        soci::use(shop), soci::use(client_key), soci::into(id);
    return sql.got_data() ? std::optional(id) : std::nullopt;
}

}  // namespace

std::vector<bool> live_entries(const std::vector<SurveyEntry>& entries) {
    std::map<long long, std::vector<std::size_t>> corrected_by;
    for (std::size_t i = 0; i < entries.size(); ++i)
        if (entries[i].corrects) corrected_by[*entries[i].corrects].push_back(i);
    std::vector<bool> stands(entries.size()), live(entries.size());
    // A correction is younger than what it corrects: from the youngest back each is settled in one pass.
    for (std::size_t i = entries.size(); i-- > 0;) {
        bool set_aside = false;
        for (const auto by : corrected_by[entries[i].id]) set_aside = set_aside || stands[by];
        stands[i] = !set_aside;
        live[i] = stands[i] && !entries[i].withdrawn;
    }
    return live;
}

Answer<SurveyRow> Surveys::make(const Person& by, const std::string& title, LengthUnit units,
                                const NewSurveyEntry& first) {
    return database_.write([&](Sql& sql) -> Answer<SurveyRow> {
        if (const auto known = survey_under(sql, first.client_key)) return *survey_by_id(sql, *known);
        const long long shop = sql.shop(), now = now_ms(), sequence = 1;
        const std::string unit = units == LengthUnit::inch ? "in" : "mm";
        long long id = 0;
        sql << "insert into survey (shop, title, units, sequence, made_ms, made_by, changed_ms, changed_by) "
               "values (:shop, :title, :units, :sequence, :made, :by, :changed, :changer) returning id",
            soci::use(shop), soci::use(title), soci::use(unit), soci::use(sequence), soci::use(now),
            soci::use(by.id), soci::use(now), soci::use(by.id), soci::into(id);
        insert_entry(sql, by, id, sequence, first);
        note(sql, {by.id, {}, {}, {}}, fmt::format("began the survey '{}'", title));
        return *survey_by_id(sql, id);
    });
}

std::optional<SurveyRow> Surveys::row(long long id) {
    return database_.read([&](Sql& sql) { return survey_by_id(sql, id); });
}

std::vector<SurveyRow> Surveys::rows() {
    return database_.read([&](Sql& sql) { return select_surveys(sql, "s.id > :least", 0); });
}

std::vector<SurveyEntry> Surveys::entries(long long id) {
    return database_.read([&](Sql& sql) { return select_entries(sql, id); });
}

Answer<SurveyEntry> Surveys::append(const Person& by, long long id, const NewSurveyEntry& entry) {
    return database_.write([&](Sql& sql) -> Answer<SurveyEntry> {
        const auto survey = survey_by_id(sql, id);
        if (!survey) return refuse(Why::not_found, "there is no such survey");
        const auto all = select_entries(sql, id);
        for (const auto& known : all) {
            if (known.client_key != entry.client_key) continue;
            if (known.kind == entry.kind && known.values == entry.values &&
                known.corrects == entry.corrects && known.withdrawn == entry.withdrawn)
                return known;
            return refuse(Why::taken, "an entry with other values was sent before under the same client key");
        }
        const auto corrected =
            std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.id == entry.corrects; });
        if (entry.corrects && (corrected == all.end() || corrected->kind != entry.kind))
            return refuse(Why::not_found, "the entry to correct is not on record in this survey");
        const long long sequence = survey->sequence + 1, now = now_ms(), shop = sql.shop();
        const auto made = insert_entry(sql, by, id, sequence, entry);
        sql << "update survey set sequence = :sequence, changed_ms = :now, changed_by = :by where shop = "
               ":shop "
               "and id = :id",
            soci::use(sequence), soci::use(now), soci::use(by.id), soci::use(shop), soci::use(id);
        note(sql, {by.id, {}, {}, {}},
             fmt::format("the survey '{}': {} {}{}", survey->title,
                         entry.withdrawn  ? "took back"
                         : entry.corrects ? "corrected"
                                          : "recorded",
                         named_in_words(entry.kind,
                                        entry.withdrawn && entry.corrects ? corrected->values : entry.values),
                         source_words(entry.values)));
        return made;
    });
}

void Surveys::made_job(const Person& by, long long id, long long job) {
    database_.write([&](Sql& sql) {
        const long long shop = sql.shop();
        sql << "update survey set job_id = :job where shop = :shop and id = :id", soci::use(job),
            soci::use(shop), soci::use(id);
        const auto survey = survey_by_id(sql, id);
        note(sql, {by.id, job, {}, {}},
             fmt::format("made the job of the survey '{}'", survey ? survey->title : ""));
    });
}

}  // namespace seatwright::store
