package comebackledger.fleet;

import comebackledger.trail.UnitSummary.Opened;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * How returns come in clusters: a return may breed the next. Within one unit and system, returns that follow each other with no fresh episode between
 * them are one cluster. If clusters come by a Poisson law and have sizes s, a count has
 * <pre>
 *   variance / mean = E[s^2] / E[s]        estimated over all clusters by  sum s^2 / sum s
 * </pre>
 * (the compound Poisson law), so that a count divided by this factor varies as a Poisson count of its own mean does.
 */
final class Clusters {
    private long sum;
    private long squares;

    /** @param episodes of one unit, that count, in order */
    void add(List<Opened> episodes) {
        Map<String, Long> running = new TreeMap<>();
        for (Opened episode : episodes) {
            long size = running.getOrDefault(episode.system(), 0L);
            if (!episode.isReturn()) {
                close(size);
            }
            running.put(episode.system(), episode.isReturn() ? size + 1 : 0L);
        }
        running.values().forEach(this::close);
    }

    private void close(long size) {
        sum += size;
        squares += size * size;
    }

    /** 1 where no return follows another. */
    double factor() {
        return sum == 0 ? 1 : (double) squares / sum;
    }
}
