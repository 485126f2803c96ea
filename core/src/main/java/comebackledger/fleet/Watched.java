package comebackledger.fleet;

import java.util.List;

/** How many of a sorted list were watched how far. */
final class Watched {
    private Watched() {}

    static int atLeast(List<Double> sorted, double amount) {
        int low = 0;
        int high = sorted.size();
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (sorted.get(middle) < amount) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return sorted.size() - low;
    }
}
