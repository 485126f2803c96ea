package comebackledger.openapi;

import java.util.ArrayList;
import java.util.List;

/** All faults of one request, in the order they were found. */
public final class Faults {
    /** More are counted but not listed: a hostile body must not buy an answer larger than itself. */
    public static final int LISTED_AT_MOST = 100;

    private final List<Fault> faults = new ArrayList<>();
    private int count;
    private boolean onlyUnknownFields = true;

    public void add(String pointer, String detail) {
        onlyUnknownFields = false;
        keep(pointer, detail);
    }

    public void addUnknownField(String pointer, String detail) {
        keep(pointer, detail);
    }

    private void keep(String pointer, String detail) {
        count++;
        if (faults.size() < LISTED_AT_MOST) {
            faults.add(new Fault(pointer, detail));
        }
    }

    public int count() {
        return count;
    }

    public List<Fault> list() {
        return List.copyOf(faults);
    }

    /** @throws Problem 422 with every fault, if there is one */
    public void throwIfAny() {
        if (count > 0) {
            throw problem();
        }
    }

    public Problem problem() {
        String detail = count == 1
                ? faults.getFirst().detail()
                : count + " things are wrong; see faults" + (count > LISTED_AT_MOST ? ", which lists the first " + LISTED_AT_MOST + "." : ".");
        return new Problem(onlyUnknownFields ? Problem.Slug.UNKNOWN_FIELD : Problem.Slug.INVALID_VALUE, detail, list());
    }
}
