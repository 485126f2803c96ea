/**
 * Pages for people, one printable sheet each: no script, no outside reference, everything from visits escaped and set apart in its own direction.
 *
 * <p>Door: {@link comebackledger.api.page.BriefingPage}.
 *
 * <p><b>Decisions.</b> A template without logic, since what is shown is decided in Java, where it is tested. Free text is cut on the page and whole in the
 * JSON, so that a sheet stays a sheet.
 */
@NullMarked
package comebackledger.api.page;

import org.jspecify.annotations.NullMarked;
