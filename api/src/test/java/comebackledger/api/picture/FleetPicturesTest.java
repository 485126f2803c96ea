package comebackledger.api.picture;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.Approved;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Recurrence;
import comebackledger.policy.Policy.Display;
import comebackledger.stat.HoldComparison;
import comebackledger.stat.HoldCurve;
import comebackledger.stat.MeanCumulative;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;

/** The planner's curves as approved: steps with their bands, told apart by dashes, and how many are still watched under the axis. */
class FleetPicturesTest {
    private static Holds.Item item(String action, double[] returned, double... holding) {
        List<HoldCurve.Repair> repairs = DoubleStream.concat(DoubleStream.of(returned), DoubleStream.of(holding))
                .mapToObj(held -> new HoldCurve.Repair(held, DoubleStream.of(returned).anyMatch(one -> one == held))).toList();
        return new Holds.Item(action, Optional.empty(), repairs.size(), returned.length, HoldCurve.of(repairs, 0.95),
                repairs.stream().map(HoldCurve.Repair::held).sorted().toList());
    }

    private static Holds holds(Holds.Item... items) {
        return new Holds(List.of(items), List.of(items).stream().map(Holds.Item::action).toList(),
                HoldComparison.of(List.of(items).stream().map(one -> List.<HoldCurve.Repair>of()).toList()));
    }

    private static Holds cleanedAndReplaced() {
        return holds(item("cleaned", new double[]{900, 2_400, 5_200, 9_100, 16_000, 31_000}, 12_000, 40_000),
                item("replaced", new double[]{22_000, 61_000}, 18_000, 45_000, 58_000, 74_000, 90_000));
    }

    private static Recurrence recurrence() {
        List<MeanCumulative.History> units = List.of(new MeanCumulative.History(new double[]{5_000, 21_000}, 60_000),
                new MeanCumulative.History(new double[]{33_000}, 80_000), new MeanCumulative.History(new double[]{}, 45_000),
                new MeanCumulative.History(new double[]{12_000, 14_000, 70_000}, 100_000));
        return new Recurrence(MeanCumulative.of(units, 0.95), units.stream().map(MeanCumulative.History::observedUntil).sorted().toList());
    }

    @Test
    void holds_areAsApproved() throws IOException {
        Approved.assertApproved(FleetPicturesTest.class, "holds.approved.svg",
                FleetPictures.holds(cleanedAndReplaced(), Measure.KM, Display.METRIC));
    }

    @Test
    void recurrence_isAsApproved() throws IOException {
        Approved.assertApproved(FleetPicturesTest.class, "recurrence.approved.svg",
                FleetPictures.recurrence(recurrence(), Measure.KM, Display.METRIC));
    }

    /** Half of the cleaned returned by 9 100 km: 5 654 miles. */
    @Test
    void miles_areShownWhereTheFleetCountsInThem() {
        String picture = FleetPictures.holds(cleanedAndReplaced(), Measure.KM, Display.US);

        assertTrue(picture.contains("cleaned: 8 repairs, 6 returned, half by 5 654 miles"), picture);
        assertTrue(picture.contains("miles since the repair"), picture);
    }

    @Test
    void nothingKnown_isSaid() {
        String picture = FleetPictures.holds(holds(), Measure.DAYS, Display.METRIC);

        assertTrue(picture.contains("No repair is recorded.") && picture.contains("Nothing is known to draw a curve from."), picture);
        assertFalse(picture.contains("NaN") || picture.contains("Infinity"), picture);
    }
}
