// docs/api/openapi.json against the server: the same routes, and every answer in the shape it says.
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <set>
#include <thread>

#include "client.hpp"
#include "place/pty.hpp"
#include "places.hpp"
#include "seatwright/store/totp.hpp"

namespace seatwright::server {
namespace {

Json document() {
    std::ifstream in(std::string(places::root) + "/docs/api/openapi.json");
    return Json::parse(in);
}

std::string lower(std::string text) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

// The part of JSON Schema the document uses: $ref, allOf, anyOf, type, nullable, enum, required, properties,
// items.
class Shapes {
  public:
    explicit Shapes(const Json& document) : document_(document) {}

    // Everything wrong, a line each.
    std::string faults(const Json& schema, const Json& value, const std::string& at) const {
        if (schema.contains("$ref")) return faults(named(schema["$ref"]), value, at);
        if (value.is_null() && schema.value("nullable", false)) return "";
        std::string all;
        if (schema.contains("anyOf")) {
            for (const auto& part : schema["anyOf"]) {
                const std::string of_part = faults(part, value, at);
                if (of_part.empty()) return "";
                all += of_part;
            }
            return all;
        }
        if (schema.contains("allOf")) {
            for (const auto& part : schema["allOf"]) all += faults(part, value, at);
            return all;
        }
        if (value.is_null()) return !schema.contains("type") ? "" : at + ": is null\n";
        const std::string type = schema.value("type", std::string());
        if (!type.empty() && !is_of(type, value))
            return at + ": is not of type " + type + ": " + value.dump().substr(0, 80) + "\n";
        if (schema.contains("enum") &&
            std::find(schema["enum"].begin(), schema["enum"].end(), value) == schema["enum"].end())
            all += at + ": is not one of the words: " + value.dump() + "\n";
        if (schema.contains("required"))
            for (const auto& key : schema["required"])
                if (!value.contains(key.get<std::string>()))
                    all += at + ": lacks " + key.get<std::string>() + "\n";
        if (schema.contains("properties"))
            for (const auto& [key, part] : schema["properties"].items())
                if (value.contains(key)) all += faults(part, value[key], at + "." + key);
        if (schema.contains("items") && value.is_array())
            for (std::size_t i = 0; i < value.size(); ++i)
                all += faults(schema["items"], value[i], at + "[" + std::to_string(i) + "]");
        return all;
    }

  private:
    static bool is_of(const std::string& type, const Json& value) {
        if (type == "object") return value.is_object();
        if (type == "array") return value.is_array();
        if (type == "string") return value.is_string();
        if (type == "boolean") return value.is_boolean();
        if (type == "integer") return value.is_number_integer();
        return value.is_number();
    }
    const Json& named(const std::string& reference) const {
        return document_.at(Json::json_pointer(reference.substr(1)));
    }
    const Json& document_;
};

TEST(OpenApi, NamesExactlyTheRoutesOfTheServer) {
    TestShop shop;
    const Json paths = document()["paths"];
    std::set<std::string> written, real;
    for (const auto& [path, methods] : paths.items())
        for (const auto& [method, operation] : methods.items()) written.insert(method + " " + path);
    for (const auto& route : shop.server->router().routes())
        real.insert(lower(route.method) + " " + route.path);
    EXPECT_EQ(written, real);
    EXPECT_GT(real.size(), 35u);
}

// Asks and holds every answer against the document; remembers what was asked.
class Asker {
  public:
    Asker(const Json& document, Client& client) : document_(document), shapes_(document), client_(client) {}

    Json ask(const std::string& method, const std::string& route, const std::string& path, const Json& body,
             int expected) {
        return send(method, route, path, body.is_null() ? "" : body.dump(), expected);
    }
    // The body as it is.
    Json send(const std::string& method, const std::string& route, const std::string& path,
              const std::string& body, int expected) {
        const auto answer = client_.send(method, path, body);
        EXPECT_EQ(answer.status, expected) << method << " " << path << ": " << answer.text.substr(0, 300);
        const Json& operation = document_["paths"][route][lower(method)];
        const std::string status = std::to_string(answer.status);
        EXPECT_TRUE(operation["responses"].contains(status))
            << method << " " << route << " answers " << status << ", which is not written";
        if (!operation["responses"].contains(status)) return nullptr;
        seen_.insert(lower(method) + " " + route + " " + status);
        const Json& response = operation["responses"][status];
        if (!response.contains("content") || !response["content"].contains("application/json"))
            return nullptr;
        const Json value = answer.json();
        EXPECT_EQ(
            shapes_.faults(response["content"]["application/json"]["schema"], value, method + " " + path),
            "");
        return value;
    }
    // Success answers that are written but were not asked for.
    std::set<std::string> unseen() const {
        std::set<std::string> rest;
        for (const auto& [path, methods] : document_["paths"].items())
            for (const auto& [method, operation] : methods.items())
                for (const auto& [status, response] : operation["responses"].items())
                    if (status[0] == '2' && seen_.count(method + " " + path + " " + status) == 0)
                        rest.insert(method + " " + path + " " + status);
        return rest;
    }

  private:
    const Json& document_;
    Shapes shapes_;
    Client& client_;
    std::set<std::string> seen_;
};

void ask_people(Asker& asker, Client& pat) {
    asker.ask("GET", "/api/session", "/api/session", nullptr, 200);
    asker.ask("POST", "/api/owner", "/api/owner", {{"name", "Sam"}, {"password", good_password}}, 409);
    asker.ask("POST", "/api/session", "/api/session", {{"name", "Pat"}, {"password", "wrong wrong"}}, 401);
    asker.ask("POST", "/api/session", "/api/session", {{"name", "Pat"}, {"password", good_password}}, 200);
    for (const std::string people : {"/api/people", "/api/people/names"})
        asker.ask("GET", people, people, nullptr, 200);
    const Json as_mia{{"name", "Mia"}, {"role", "machinist"}, {"password", good_password}};
    const Json mia = asker.ask("POST", "/api/people", "/api/people", as_mia, 201);
    asker.ask("POST", "/api/people", "/api/people", as_mia, 409);
    const Json king{{"name", "Kim"}, {"role", "king"}, {"password", good_password}};
    asker.ask("POST", "/api/people", "/api/people", king, 400);
    asker.ask("PATCH", "/api/people/{person}", "/api/people/" + mia["id"].dump(), {{"role", "reader"}}, 200);
    asker.ask("PATCH", "/api/people/{person}", "/api/people/999", {{"role", "reader"}}, 404);
    const std::string second = "/api/session/second-factor";
    asker.ask("GET", "/api/logins", "/api/logins", nullptr, 200);
    Client other(pat.port());
    other.log_in("Pat");
    const Json all = pat.get("/api/logins").json()["logins"];
    for (const auto& login : all)
        if (login["this_one"] == false) {
            asker.ask("DELETE", "/api/logins/{login}", "/api/logins/" + login["id"].get<std::string>(),
                      nullptr, 204);
            break;
        }
    asker.ask("DELETE", "/api/logins/{login}", "/api/logins/none", nullptr, 404);
    asker.ask("GET", "/api/login-lines", "/api/login-lines", nullptr, 200);
    asker.ask("GET", "/health", "/health", nullptr, 200);
    asker.ask("GET", "/api/administration", "/api/administration", nullptr, 200);
    const std::string pin = "/api/session/pin", screens = "/api/screens";
    asker.ask("PUT", pin, pin, {{"password", good_password}, {"pin", "2580"}}, 204);
    asker.ask("PUT", pin, pin, {{"password", good_password}, {"pin", "1234"}}, 400);
    asker.ask("POST", pin, pin, {{"name", "Pat"}, {"pin", "2580"}}, 403);
    const auto enrolled = pat.send("POST", screens, Json{{"name", "mill 2"}}.dump());
    asker.ask("POST", screens, screens, {{"name", ""}}, 400);
    asker.ask("POST", screens, screens, {{"name", "mill 3"}}, 204);
    const Json there = asker.ask("GET", screens, screens, nullptr, 200);
    asker.ask("DELETE", screens + "/{screen}", screens + "/" + there["screens"][1]["id"].dump(), nullptr,
              204);
    asker.ask("DELETE", screens + "/{screen}", screens + "/99", nullptr, 404);
    pat.take_screen(enrolled);
    asker.ask("POST", pin, pin, {{"name", "Pat"}, {"pin", "2581"}}, 401);
    asker.ask("POST", pin, pin, {{"name", "Pat"}, {"pin", "2580"}}, 200);
    asker.ask("DELETE", pin, pin, nullptr, 204);
    const Json begun = asker.ask("POST", second, second, {{"password", good_password}}, 201);
    const std::string secret = store::bytes_of_base32(begun["secret"].get<std::string>());
    asker.ask("PUT", second, second, {{"code", "none"}}, 400);
    asker.ask("PUT", second, second,
              {{"code", store::totp(secret, static_cast<std::uint64_t>(store::now_ms() / 30'000))}}, 200);
    asker.ask("POST", second, second, {{"password", good_password}}, 409);
    asker.ask("DELETE", second, second, {{"password", good_password}}, 204);
    pat.take_session(pat.send("PUT", "/api/session/password",
                              Json{{"old", good_password}, {"new", good_password}}.dump()));
}

// A machinist brings a job with limits of its own.
void ask_limits(Asker& asker, Client& pat) {
    pat.post("/api/people", {{"name", "Lou"}, {"role", "machinist"}, {"password", good_password}});
    Client lou(pat.port());
    lou.log_in("Lou");
    const Json made = lou.post("/api/jobs", {{"from", "text"},
                                             {"text",
                                              "units = \"mm\"\n[head]\nname = \"h\"\n[[head.valve]]\nid = "
                                              "\"1I\"\ncylinder = 1\nkind = \"intake\"\nx = 1\ny = 0\nz = "
                                              "0\n[seat.intake]\nrunout_max = 0.5\n"}})
                          .json();
    const std::string path = "/api/jobs/" + made["id"].dump() + "/limits";
    asker.ask("POST", "/api/jobs/{id}/limits", path, nullptr, 200);
    asker.ask("POST", "/api/jobs/{id}/limits", path, nullptr, 404);
}

void ask_job(Asker& asker, const std::string& job) {
    const std::string at = "/api/jobs/" + job;
    asker.ask("GET", "/api/jobs/{id}", at, nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}", "/api/jobs/999", nullptr, 404);
    const Json now = asker.ask("POST", "/api/jobs/{id}/edits", at + "/edits",
                               {{"version", 1}, {"edits", {{{"key", "title"}, {"value", "x"}}}}}, 200);
    asker.ask("POST", "/api/jobs/{id}/edits", at + "/edits",
              {{"version", 1}, {"edits", {{{"key", "title"}, {"value", "x"}}}}}, 409);
    asker.ask("PUT", "/api/jobs/{id}", at, {{"version", 2}, {"text", now["text"]}}, 200);
    asker.ask("PUT", "/api/jobs/{id}", at, {{"version", 3}, {"text", "nonsense"}}, 400);
    asker.ask("POST", "/api/jobs/{id}/undo", at + "/undo", {{"version", 3}}, 200);
    asker.ask("POST", "/api/jobs/{id}/redo", at + "/redo", {{"version", 4}}, 200);
    asker.ask("GET", "/api/jobs/{id}/versions", at + "/versions", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/versions/{version}", at + "/versions/1", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/export", at + "/export", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/original", at + "/original", nullptr, 200);
    asker.ask("PATCH", "/api/jobs/{id}", at, {{"archived", false}}, 200);
    asker.ask("GET", "/api/jobs/{id}/state", at + "/state", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/results/{stage}", at + "/results/hold", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/results/{stage}", at + "/results/guess", nullptr, 404);
    asker.ask("POST", "/api/jobs/{id}/whatif", at + "/whatif",
              {{"results", {"hold"}}, {"drawings", {{{"name", "end"}}}}}, 200);
    const Json room = {{"spread", 70}, {"causes", 60}, {"changes", 60}, {"by_head", 200}};
    for (const bool whole : {false, true})
        asker.ask("POST", "/api/jobs/{id}/forecast", at + "/forecast", {{"whole", whole}, {"room", room}},
                  200);
    asker.ask("POST", "/api/jobs/{id}/forecast", at + "/forecast", {{"tried", {{"heads", 0}}}}, 400);
    asker.ask("GET", "/api/jobs/{id}/forecast.pdf", at + "/forecast.pdf", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/drawings/{file}", at + "/drawings/plan.svg", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/papers", at + "/papers", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/papers", at + "/papers?paper=wall", nullptr, 400);
    asker.ask("GET", "/api/jobs/{id}/papers/{file}", at + "/papers/program-6-A-1-first.ngc", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/papers/{file}", at + "/papers/certificate-99.svg", nullptr, 404);
    asker.ask("GET", "/api/jobs/{id}/order", at + "/order", nullptr, 200);
    asker.ask("PATCH", "/api/jobs/{id}/order", at + "/order",
              {{"number", "A-17"}, {"customer", "Invented Engines"}, {"serials", {{"6", "SN 1"}}}}, 200);
    asker.ask("PATCH", "/api/jobs/{id}/order", at + "/order", {{"number", " x"}}, 400);
    const Json known = asker.ask("GET", "/api/customers", "/api/customers", nullptr, 200);
    const std::string customer = "/api/customers/" + known["customers"][0]["id"].dump();
    asker.ask("PATCH", "/api/customers/{customer}", customer, {{"name", "Other Engines"}}, 200);
    asker.ask("PATCH", "/api/customers/{customer}", customer, {{"name", ""}}, 400);
    asker.ask("GET", "/api/customers/{customer}/everything", customer + "/everything", nullptr, 200);
    asker.ask("GET", "/api/customers/{customer}/everything", "/api/customers/99/everything", nullptr, 404);
    const Json left = asker.ask("GET", "/api/jobs/{id}/issues", at + "/issues", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/issues/{issue}", at + "/issues/" + left["issues"][0]["id"].dump(),
              nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/issues/{issue}", at + "/issues/99", nullptr, 404);
    asker.ask("POST", "/api/jobs/{id}/prepare", at + "/prepare", {{"papers", {"certificate.pdf"}}}, 202);
    asker.ask("POST", "/api/jobs/{id}/prepare", at + "/prepare", {{"papers", 7}}, 400);
    asker.ask("GET", "/api/jobs/{id}/why/{stage}", at + "/why/hold", nullptr, 200);
}

void ask_entries(Asker& asker, const std::string& job) {
    const std::string at = "/api/jobs/" + job;
    const Json touch = {
        {"client_key", "key-00001"},     {"kind", "touch"}, {"head", "77"}, {"valve", "1I"}, {"units", "mm"},
        {"values", {{"x", 1}, {"y", 2}}}};
    const Json stored = asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", touch, 201);
    asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", touch, 200);
    Json other = touch;
    other["values"]["x"] = 9;
    asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", other, 409);
    other["client_key"] = "key-00002";
    asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", other, 201);
    asker.ask("GET", "/api/jobs/{id}/entries", at + "/entries", nullptr, 200);
    asker.ask("GET", "/api/jobs/{id}/state", at + "/state", nullptr, 200);
    const Json choice = {{"client_key", "key-00003"}, {"chosen", stored["id"]}};
    asker.ask("POST", "/api/jobs/{id}/choices", at + "/choices", choice, 201);
    asker.ask("POST", "/api/jobs/{id}/choices", at + "/choices", choice, 200);
    const Json verdict = {{"client_key", "key-00004"}, {"head", "1"},       {"valve", "1I"},
                          {"what", "runout"},          {"verdict", "fail"}, {"reason", "seen by eye"}};
    asker.ask("POST", "/api/jobs/{id}/overrides", at + "/overrides", verdict, 201);
    asker.ask("POST", "/api/jobs/{id}/overrides", at + "/overrides", verdict, 200);
    const Json done = {
        {"client_key", "key-00005"}, {"kind", "done"}, {"values", {{"stage", "hold"}, {"done", true}}}};
    asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", done, 201);
    // The first and last bytes of a JPEG (ISO/IEC 10918-1, B.1.1.3); nobody looks at the picture.
    const Json note = {{"client_key", "key-00006"},
                       {"kind", "note"},
                       {"values", {{"words", "a nick"}, {"jpeg", "/9j/4P/Z"}}}};
    const Json noted = asker.ask("POST", "/api/jobs/{id}/entries", at + "/entries", note, 201);
    asker.ask("GET", "/api/jobs/{id}/photographs/{file}",
              at + "/photographs/" + noted["values"]["photograph"].get<std::string>(), nullptr, 200);
}

void ask_surveys(Asker& asker) {
    const Json begun = {
        {"client_key", "s-1"}, {"title", "h"}, {"units", "mm"}, {"values", {{"cylinders", 1}}}};
    const Json made = asker.ask("POST", "/api/surveys", "/api/surveys", begun, 201);
    asker.ask("POST", "/api/surveys", "/api/surveys", {{"client_key", "s-2"}}, 400);
    const std::string at = "/api/surveys/" + made["id"].dump(), entries = "/api/surveys/{survey}/entries";
    const Json level = {{"client_key", "s-3"},
                        {"kind", "level"},
                        {"values",
                         {{"setup", "L"},
                          {"what", "guide"},
                          {"id", "1I"},
                          {"across", "incline"},
                          {"first", 1},
                          {"second", -1}}}};
    asker.ask("POST", entries, at + "/entries", level, 201);
    asker.ask("POST", entries, at + "/entries", level, 200);
    Json other = level;
    other["kind"] = "size";
    asker.ask("POST", entries, at + "/entries", other, 409);
    asker.ask("POST", entries, at + "/entries", {{"client_key", "s-4"}, {"kind", "thought"}}, 400);
    const Json now = asker.ask("GET", "/api/surveys/{survey}", at, nullptr, 200);
    EXPECT_FALSE(now["found"].is_null());
    asker.ask("GET", "/api/surveys/{survey}", "/api/surveys/99", nullptr, 404);
    asker.ask("GET", "/api/surveys/{survey}/file", at + "/file", nullptr, 200);
    asker.ask("GET", "/api/surveys", "/api/surveys", nullptr, 200);
    asker.ask("POST", "/api/jobs", "/api/jobs", {{"from", "survey"}, {"survey", made["id"]}}, 422);
}

void ask_scans(Asker& asker) {
    std::ifstream in(std::string(places::root) + "/examples/scan/head.ply", std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    const std::string all = "/api/scans", one = "/api/scans/{scan}";
    asker.ask("POST", all, all, {{"file", "head.ply"}, {"bytes", 0}}, 400);
    const auto begin = [&] {
        return asker.ask("POST", all, all, {{"file", "head.ply"}, {"bytes", bytes.size()}}, 201)["id"]
            .get<std::string>();
    };
    const std::string id = begin(), at = all + "/" + id;
    asker.ask("GET", one + "/points", at + "/points", nullptr, 409);
    asker.send("POST", one + "/pieces", at + "/pieces?at=0", bytes, 200);
    asker.send("POST", one + "/pieces", at + "/pieces?at=0", bytes, 409);
    const Json task = asker.ask("POST", one + "/read", at + "/read", Json::object(), 202);
    for (int n = 0; n < 3000; ++n) {
        const Json now = asker.ask("GET", "/api/tasks/{task}", "/api/tasks/" + task["id"].get<std::string>(),
                                   nullptr, 200);
        if (now["state"] != "running") break;
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    const Json scan = asker.ask("GET", one, at, nullptr, 200);
    EXPECT_FALSE(scan["found"].is_null());
    asker.ask("GET", one, all + "/none", nullptr, 404);
    asker.ask("GET", one + "/points", at + "/points", nullptr, 200);
    asker.ask("GET", one + "/drawing.svg", at + "/drawing.svg", nullptr, 200);
    asker.ask("DELETE", one, all + "/" + begin(), nullptr, 204);
    Json said = {{"valves", Json::object()}, {"holes", Json::object()}};
    asker.ask("POST", one + "/job", at + "/job", {{"said", {{"valves", {{"9I", {{"dropped", true}}}}}}}},
              422);
    for (const auto& [feature, why] : scan["in_doubt"].items())
        said[std::isdigit(static_cast<unsigned char>(feature[0])) != 0 ? "valves" : "holes"][feature] = {
            {"confirmed", true}};
    asker.ask("POST", one + "/job", at + "/job", {{"said", said}}, 201);
    asker.ask("POST", one + "/job", at + "/job", {{"said", said}}, 404);
}

void ask_castings(Asker& asker, const std::string& job) {
    const std::string all = "/api/castings", file = "/api/castings/{casting}/file",
                      offer = "/api/castings/{casting}/offers/{offer}";
    const Json made = asker.ask("POST", all, all, {{"job", std::stoll(job)}}, 201);
    asker.ask("POST", all, all, {{"job", std::stoll(job)}}, 409);
    asker.ask("POST", all, all, {{"text", "nothing"}}, 400);
    const std::string at = "/api/castings/" + made["id"].dump();
    asker.ask("GET", file, at + "/file", nullptr, 200);
    asker.ask("GET", file, "/api/castings/99/file", nullptr, 404);
    const std::string notes = "/api/castings/{casting}/notes",
                      photograph = "/api/castings/{casting}/photographs/{file}";
    const Json noted = asker.ask("POST", notes, at + "/notes",
                                 {{"words", "a rib beside cylinder 2"}, {"jpeg", "/9j/4P/Z"}}, 201);
    asker.ask("POST", notes, at + "/notes", {{"jpeg", "no picture"}}, 400);
    asker.ask("GET", photograph, at + "/photographs/" + noted["notes"][0]["photograph"].get<std::string>(),
              nullptr, 200);
    asker.ask("GET", photograph, at + "/photographs/none", nullptr, 404);
    const Json other =
        asker.ask("POST", "/api/jobs", "/api/jobs", {{"from", "casting"}, {"casting", made["name"]}}, 201);
    asker.ask("POST", "/api/jobs/{id}/edits", "/api/jobs/" + other["id"].dump() + "/edits",
              {{"version", 1}, {"edits", {{{"key", "head.mass"}, {"value", "33.5 kg"}}}}}, 200);
    Json now = asker.ask("GET", all, all, nullptr, 200);
    for (int k = 0; k < 200 && now["castings"][0]["offers"].empty(); ++k) {
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        now = asker.ask("GET", all, all, nullptr, 200);
    }
    ASSERT_FALSE(now["castings"][0]["offers"].empty());
    asker.ask("POST", offer, at + "/offers/" + now["castings"][0]["offers"][0]["id"].dump(),
              {{"accepted", false}}, 200);
    asker.ask("POST", offer, at + "/offers/99", {{"accepted", true}}, 404);
}

void ask_places(Asker& asker, const std::string& job) {
    const store::TestFolder stick;
    const std::string all = "/api/places", one = "/api/places/{place}", sent = "/api/jobs/{id}/sent",
                      send = "/api/jobs/{id}/send", said = "/api/sendings/{sending}/said",
                      back = "/api/sendings/{sending}/read_back", head = "/sent?head=6";
    Json body{{"machine", "a mill"}, {"name", "stick"}, {"kind", "folder"}, {"path", stick.path()}};
    const Json made = asker.ask("POST", all, all, body, 201);
    asker.ask("POST", all, all, {{"machine", "a mill"}}, 400);
    asker.ask("POST", all, all, body, 409);
    const std::string at = "/api/places/" + made["id"].dump(), of = "/api/jobs/" + job;
    body["version"] = 1;
    asker.ask("PUT", one, at, body, 200);
    asker.ask("PUT", one, at, body, 409);
    asker.ask("GET", all, all, nullptr, 200);
    asker.ask("POST", one + "/look", at + "/look", Json::object(), 200);
    asker.ask("POST", one + "/clear", at + "/clear", Json::object(), 200);
    asker.ask("POST", one + "/clear", "/api/places/99/clear", Json::object(), 404);
    const Json wanted{{"place", made["id"]}, {"head", "6"}, {"files", {"program-6-A-1-first.ngc"}}};
    const Json task = asker.ask("POST", send, of + "/send", wanted, 202);
    for (int n = 0; n < 500; ++n) {
        const Json now = asker.ask("GET", "/api/tasks/{task}", "/api/tasks/" + task["id"].get<std::string>(),
                                   nullptr, 200);
        if (now["state"] != "running") break;
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    asker.ask("POST", send, of + "/send", {{"place", made["id"]}, {"head", "6"}, {"files", {"x.ngc"}}}, 422);
    const Json now = asker.ask("GET", sent, of + head, nullptr, 200);
    const std::string sending = "/api/sendings/" + now["sent"][0]["id"].dump();
    asker.ask("DELETE", one, at, nullptr, 409);
    asker.ask("POST", said, sending + "/said", {{"word", "done"}}, 400);
    asker.ask("POST", said, sending + "/said", {{"word", "cut"}}, 200);
    asker.ask("POST", back, sending + "/read_back", Json::object(), 202);
    asker.ask("DELETE", one, at, nullptr, 204);
}

void ask_feeds(Asker& asker) {
    place::Pty gauge;
    const std::string all = "/api/feeds", one = "/api/feeds/{feed}";
    Json body{{"kind", "line"},
              {"device", gauge.name()},
              {"name", "depth gauge"},
              {"stale_ms", 600'000},
              {"channels", {{{"what", "depth"}, {"low", 0}}}}};
    const Json made = asker.ask("POST", all, all, body, 201);
    asker.ask("POST", all, all, body, 409);
    asker.ask("POST", all, all, {{"kind", "line"}}, 400);
    const std::string at = "/api/feeds/" + made["id"].dump();
    asker.ask("GET", all, all, nullptr, 200);
    asker.ask("POST", one + "/take", at + "/take", Json::object(), 422);
    for (int n = 0; n < 500 && asker.ask("GET", one + "/now", at + "/now", nullptr, 200)["values"].empty();
         ++n) {
        gauge.say("+0001.5\r");
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    asker.ask("POST", one + "/take", at + "/take", Json::object(), 200);
    asker.ask("GET", one + "/now", at + "/now", nullptr, 200);
    asker.ask("GET", one + "/now", "/api/feeds/99/now", nullptr, 404);
    body["version"] = 1;
    asker.ask("PUT", one, at, body, 200);
    asker.ask("PUT", one, at, body, 409);
    asker.ask("DELETE", one, at, nullptr, 204);
    asker.ask("POST", all + "/try", all + "/try", {{"kind", "line"}, {"device", gauge.name()}}, 200);
}

TEST(OpenApi, EveryAnswerHasTheShapeWrittenAndEverySuccessIsTried) {
    TestShop shop;
    const Json written = document();
    Asker asker(written, *shop.pat);
    ask_people(asker, *shop.pat);
    ask_surveys(asker);
    ask_scans(asker);
    ask_limits(asker, *shop.pat);
    asker.ask("GET", "/api/examples", "/api/examples", nullptr, 200);
    const Json job =
        asker.ask("POST", "/api/jobs", "/api/jobs", {{"from", "example"}, {"example", "wedge"}}, 201);
    asker.ask("POST", "/api/jobs", "/api/jobs", {{"from", "text"}, {"text", "nonsense"}}, 400);
    asker.ask("GET", "/api/jobs", "/api/jobs", nullptr, 200);
    asker.ask("POST", "/api/preview", "/api/preview", {{"cylinders", 4}, {"bore_spacing", 100}}, 200);
    ask_job(asker, job["id"].dump());
    ask_entries(asker, job["id"].dump());
    ask_castings(asker, job["id"].dump());
    ask_places(asker, job["id"].dump());
    ask_feeds(asker);
    const Json shelf = asker.ask("GET", "/api/shelf", "/api/shelf", nullptr, 200);
    asker.ask("PUT", "/api/shelf", "/api/shelf", {{"version", 1}, {"text", shelf["text"]}}, 200);
    asker.ask("POST", "/api/shelf/edits", "/api/shelf/edits",
              {{"version", 2}, {"edits", {{{"key", "title"}, {"value", "mine"}}}}}, 200);
    asker.ask("GET", "/api/shelf/versions", "/api/shelf/versions", nullptr, 200);
    asker.ask("GET", "/api/keys", "/api/keys", nullptr, 200);
    asker.ask("GET", "/api/ledger", "/api/ledger", nullptr, 200);
    const std::string large = example_named("wedge")->text + "\n#" + std::string(300'000, ' ') + "\n";
    const Json task = asker.ask("POST", "/api/jobs", "/api/jobs", {{"from", "text"}, {"text", large}}, 202);
    for (const char* method : {"GET", "DELETE"})
        asker.ask(method, "/api/tasks/{task}", "/api/tasks/" + task["id"].get<std::string>(), nullptr, 200);
    asker.ask("DELETE", "/api/session", "/api/session", nullptr, 204);
    asker.ask("GET", "/api/jobs", "/api/jobs", nullptr, 401);
    // Streams, the owner's making and the changed password have tests of their own.
    EXPECT_EQ(asker.unseen(),
              (std::set<std::string>{"get /api/events 200", "get /api/jobs/{id}/events 200",
                                     "post /api/owner 201", "put /api/session/password 200"}));
}

}  // namespace
}  // namespace seatwright::server
