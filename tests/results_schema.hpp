// schema/results.json, and what in a result is not as it says; valijson reads it.
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "places.hpp"

namespace seatwright {

class ResultsSchema {
  public:
    // DEFINITION: "StoppedResult".
    explicit ResultsSchema(const std::string& definition) {
        const auto whole =
            nlohmann::json::parse(std::ifstream(std::string(places::root) + "/schema/results.json"));
        const nlohmann::json one{{"$ref", "#/definitions/" + definition},
                                 {"definitions", whole.at("definitions")}};
        valijson::SchemaParser().populateSchema(valijson::adapters::NlohmannJsonAdapter(one), schema_);
    }

    // A line for each fault; none: as the schema says.
    std::string faults(const nlohmann::json& result) const {
        valijson::ValidationResults found;
        valijson::Validator().validate(schema_, valijson::adapters::NlohmannJsonAdapter(result), &found);
        std::string all;
        for (const auto& fault : found) {
            for (const auto& step : fault.context) all += step;
            all += ": " + fault.description + "\n";
        }
        return all;
    }

  private:
    valijson::Schema schema_;
};

}  // namespace seatwright
