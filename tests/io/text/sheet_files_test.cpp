#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "io/errors.hpp"
#include "io/sheet_json.hpp"
#include "io/sheet_page.hpp"
#include "io/solved_times.hpp"

namespace sandfreeze::io::testing
{

namespace
{

using nlohmann::json;

solver::Sheet small_sheet()
{
    solver::SheetLine charge{.id = "charge", .label = "Charge <b>", .value = 1.23456, .unit = "kg"};
    charge.low = 1.1;
    charge.high = 1.4;
    charge.words = "a & b";
    charge.formula = "m = melt / (1 - loss)";
    charge.equation = "E12";
    charge.inputs = {{"loss", "burnt", 3, "%", solver::SheetOrigin::assumed, "[melt] melting_loss_percent"},
                     {"melt", "liquid", 1.2, "kg", solver::SheetOrigin::computed, "melt"}};
    charge.source = "balance";
    charge.caution = "dry \"tools\"";
    charge.calls = true;
    const solver::SheetLine unknown{.id = "opening", .label = "Open", .unit = "s", .words = "not known"};
    const solver::SheetLine time{
        .id = "solid", .label = "Solid", .value = 200, .unit = "s", .low = 160, .high = 240};
    return {"<script>alert('x')</script>", "Volumes: <i>", {{"Metal & more", {charge, unknown, time}}}};
}

const SheetContext context{"0.1.0", "a<b>.toml", "0123456789abcdef"};

bool contains(const std::string& text, std::string_view piece)
{
    return text.find(piece) != std::string::npos;
}

/// A whole answer's summary, as far as times are read from it.
json summary()
{
    return {{"program_version", "0.1.0"},
            {"case_sha256", "abc"},
            {"metal", {{"last_freeze_s", 130.5}}},
            {"parts",
             {{{"role", "casting"}, {"last_freeze_s", 90}},
              {{"role", "casting"}, {"last_freeze_s", 100}},
              {{"role", "feeder"}, {"last_freeze_s", 130.5}}}},
            {"opening", {{"at_s", 400}, {"below_C", 287.5}, {"below_given", false}}}};
}

}  // namespace

TEST_CASE("sheet: its JSON holds every member of every line, null where there is none")
{
    const json j = json::parse(sheet_json(small_sheet(), context));
    CHECK(j["format"] == 1);
    CHECK(j["title"] == "<script>alert('x')</script>");
    CHECK(j["case_sha256"] == "0123456789abcdef");
    const json& charge = j["sections"][0]["lines"][0];
    CHECK(charge["value"] == 1.23456);
    CHECK(charge["low"] == 1.1);
    CHECK(charge["calls"] == true);
    CHECK(charge["inputs"][0]["origin"] == "assumed");
    CHECK(charge["inputs"][1]["from"] == "melt");
    CHECK(j["sections"][0]["lines"][1]["value"].is_null());
    CHECK(j["assumed"].size() == 1);
    CHECK(j["assumed"][0]["key"] == "[melt] melting_loss_percent");
}

TEST_CASE("sheet: numbers are told in three figures, two where they are uncertain, long times in minutes")
{
    const solver::Sheet sheet = small_sheet();
    const auto& lines = sheet.sections[0].lines;
    CHECK(value_words(lines[0]) == "1.23 kg");
    CHECK(range_words(lines[0]) == "1.1 to 1.4 kg");
    CHECK(value_words(lines[1]).empty());
    CHECK(value_words(lines[2]) == "3.3 min");
    CHECK(range_words(lines[2]) == "2.7 to 4 min");
    solver::SheetLine narrow{
        .id = "p", .label = "", .value = 101.5, .unit = "mm", .low = 101.3, .high = 101.7};
    CHECK(range_words(narrow) == "101.3 to 101.7 mm");
    CHECK(origin_words(lines[0].inputs[0]) == "assumed; set [melt] melting_loss_percent");
    CHECK(origin_words(lines[0].inputs[1]) == "see melt");
    solver::Sheet chain = small_sheet();
    chain.sections[0].lines[1].inputs = {{"c", "charge", 1, "kg", solver::SheetOrigin::computed, "charge"}};
    CHECK(hangs_on_assumption(chain, chain.sections[0].lines[1]));
    CHECK_FALSE(hangs_on_assumption(chain, chain.sections[0].lines[2]));
}

TEST_CASE("sheet: nothing of the case becomes HTML, and the page needs nothing else")
{
    const std::string page = sheet_page(small_sheet(), context);
    CHECK(contains(page, "<h1>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;</h1>"));
    CHECK(contains(page, "Charge &lt;b&gt;"));
    CHECK(contains(page, "a &amp; b"));
    CHECK(contains(page, "dry &quot;tools&quot;"));
    CHECK(contains(page, "a&lt;b&gt;.toml"));
    CHECK_FALSE(contains(page, "<script"));
    CHECK_FALSE(contains(page, "http:"));
    CHECK_FALSE(contains(page, "https:"));
    CHECK_FALSE(contains(page, "src="));
    CHECK(contains(page, "default-src 'none'"));
}

TEST_CASE("sheet: the page shows each line with its value, what is wrong, and what was assumed")
{
    const std::string page = sheet_page(small_sheet(), context);
    CHECK(contains(page, R"(<div class="line calls" id="charge">)"));
    CHECK(contains(page, R"(<span class="value">1.23 kg*</span>)"));
    CHECK(contains(page, "1.1 to 1.4 kg; a &amp; b"));
    CHECK(contains(page, "burnt 3 % ([melt] melting_loss_percent)"));
    const auto disclaimer = page.find("without warranty");
    REQUIRE(disclaimer != std::string::npos);
    CHECK(page.find("without warranty", disclaimer + 1) == std::string::npos);  // once
    CHECK(contains(page, "Local codes"));
}

TEST_CASE("sheet: times of an answer are read, and what did not happen stays open")
{
    const solver::SolvedTimes times = read_solved_times(summary().dump(), "a/summary.json", "abc");
    CHECK(times.castings_solid == 100);
    CHECK(times.all_solid == 130.5);
    CHECK(times.opening == 400);
    CHECK(times.open_below == 287.5);
    json early = summary();
    early["parts"][0]["last_freeze_s"] = nullptr;
    early["metal"]["last_freeze_s"] = nullptr;
    early.erase("opening");
    const solver::SolvedTimes open = read_solved_times(early.dump(), "a/summary.json", "abc");
    CHECK_FALSE(open.castings_solid.has_value());
    CHECK_FALSE(open.all_solid.has_value());
    CHECK_FALSE(open.opening.has_value());
}

TEST_CASE("sheet: an answer that is not whole, or to another case, is refused")
{
    const std::string way_out = ". Run the case again, or give the case file itself";
    const auto refused = [&](const std::string& text, const std::string& why) {
        CHECK_THROWS_WITH_AS(read_solved_times(text, "a/summary.json", "abc"),
                             ("cannot use \"a/summary.json\"; " + why + way_out).c_str(), FileError);
    };
    refused("{", "it is not JSON as a run writes it");
    refused("[]", "it is not JSON as a run writes it");
    json other = summary();
    other["case_sha256"] = "def";
    refused(other.dump(),
            "it is the answer to another case than the case.toml beside it, which was changed since");
    for (const char* key : {"program_version", "case_sha256", "parts", "metal"}) {
        json cut = summary();
        cut.erase(key);
        refused(cut.dump(), "it is no whole answer: \"" + std::string(key) + "\" is missing");
    }
    json wrong = summary();
    wrong["metal"]["last_freeze_s"] = "soon";
    refused(wrong.dump(), "\"last_freeze_s\" is no time");
    wrong = summary();
    wrong["parts"] = 5;
    refused(wrong.dump(), "\"parts\" is no list");
    wrong = summary();
    wrong["opening"]["below_C"] = nullptr;
    refused(wrong.dump(), "\"below_C\" is no temperature");
}

}  // namespace sandfreeze::io::testing
