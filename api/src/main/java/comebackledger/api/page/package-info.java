/**
 * Pages for people, one printable sheet each: no script, no outside reference, everything from visits escaped and set apart in its own direction.
 *
 * <p>Door: {@link comebackledger.api.page.BriefingPage}.
 *
 * <p><b>Decisions.</b> Lists of sentences and no tables: a table that becomes blocks on a phone keeps its meaning only by roles that validators refuse.
 * The first test stands in a box with whom it is after. Bits are left to the JSON. Print is large where there is little to tell, else small, so that an
 * ordinary truck is one sheet. A template without logic, since what is shown is decided in Java, where it is tested. Free text is cut on the page and whole in the
 * JSON, so that a sheet stays a sheet.
 */
@NullMarked
package comebackledger.api.page;

import org.jspecify.annotations.NullMarked;
