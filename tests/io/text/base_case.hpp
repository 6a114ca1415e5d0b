#pragma once
// A small case that is right, for tests that change one thing in it.

#include <string>
#include <string_view>
#include <vector>

namespace sandfreeze::io::testing
{

/// The sand, alloy and steel of the small cases, as lines of their text.
std::string_view materials_of_cases();

/// Sand box 100 by 80 mm, 2 mm cells: bar, neck and feeder of one alloy, a chill under the bar.
std::string_view base_case();

/// A text with the first `from` replaced; fails the test where there is none.
std::string replaced(std::string_view text, std::string_view from, std::string_view to);

/// The base case with the first `from` replaced; fails the test where there is none.
std::string changed(std::string_view from, std::string_view to);

/// The base case with lines added at its end.
std::string with(std::string_view lines);

/// Every problem as "LINE:COLUMN MESSAGE", in order; empty when the case is right.
std::vector<std::string> problems_of(std::string_view text);

/// What the reader warns of.
std::vector<std::string> warnings_of(std::string_view text);

/// One mistake in the base case, and all that is said about it.
struct Mistake {
    std::string claim;
    std::string from;  ///< replaced in the base case; empty: `to` is added at its end
    std::string to;
    std::vector<std::string> said;  ///< as problems_of gives it
};

/// Holds what is said against what each mistake expects.
void check_all(const std::vector<Mistake>& mistakes);

/// The text of a file in tests/cases.
std::string case_text(const std::string& name);

/// The case files of tests/cases, by name.
std::vector<std::string> case_names();

}  // namespace sandfreeze::io::testing
