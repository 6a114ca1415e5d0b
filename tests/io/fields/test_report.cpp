#include <doctest/doctest.h>

#include <limits>
#include <string>
#include <vector>

#include "io/report.hpp"
#include "io/report_sheets.hpp"
#include "io/result_maps.hpp"
#include "tests/io/fields/sample_answer.hpp"

namespace
{

using namespace sandfreeze;

std::string page_of(const std::string& title, const std::string& case_text)
{
    io_test::Sample sample = io_test::small_sample();
    sample.c.title = title;
    for (const io::MetalMap& map : io::metal_maps()) {  // the sample has not all of them
        (sample.answer.fields.*map.field)
            .resize(sample.answer.painting.grid.size(), std::numeric_limits<float>::quiet_NaN());
    }
    return io::report_page(sample.c, sample.answer, {"0", "sum", case_text, "", "All is well.", {}});
}

std::size_t count(const std::string& text, const std::string& what)
{
    std::size_t found = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) {
        ++found;
    }
    return found;
}

}  // namespace

TEST_CASE("io: no text of a case can end the page's data or begin a tag")
{
    const std::string plain = page_of("plain", "plain");
    const std::string hostile = page_of("</script><script>alert(1)</script>", "<!-- ]]> </SCRIPT> \xff");
    for (const char* tag : {"<script", "</script", "</SCRIPT", "<!--"}) {
        CHECK(count(hostile, tag) == count(plain, tag));
    }
    CHECK(hostile.find("\\u003c/script\\u003e") != std::string::npos);
}

TEST_CASE("io: the page asks for nothing from elsewhere")
{
    const std::string page = page_of("plain", "plain");
    CHECK(page.find("default-src 'none'") != std::string::npos);
    // Names of namespaces are no addresses that anything is fetched from.
    CHECK(count(page, "http") == count(page, "http://www.w3.org/2000/svg") + count(page, "http-equiv"));
    CHECK(page.find("@import") == std::string::npos);
    CHECK(page.find("url(") == std::string::npos);
}

TEST_CASE("io: a thinned sheet keeps the middle pixel of each block")
{
    CHECK(io::thinned_pixels(4, 2, 1) == std::vector<std::uint32_t>{0, 1, 2, 3, 4, 5, 6, 7});
    CHECK(io::thinned_pixels(5, 3, 3) == std::vector<std::uint32_t>{6, 9});
    CHECK(io::blocks(5, 3) == 2);
    CHECK(io::blocks(6, 3) == 2);
}
