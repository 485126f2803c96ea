/**
 * What does the ledger look like with two years of work orders in it? An invented fleet, the same for the same day.
 *
 * <p>Door: {@link comebackledger.api.demo.DemoFleet}, which gives lines as an import takes them, so that the demo enters through the same door
 * as anybody's evidence. Every unit carries the tag {@code origin: invented}; no number here is measured, and none is a recommendation.
 */
@NullMarked
package comebackledger.api.demo;

import org.jspecify.annotations.NullMarked;
