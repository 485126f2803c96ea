package comebackledger.api.transfer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Problem;
import java.util.SortedMap;
import java.util.TreeMap;

/** What became of the lines of one import: all are counted, and of the rejected ones the first are told, in bounded memory. */
public final class ImportTally {
    /** More are counted but not listed; common practice, no source. */
    static final int PROBLEMS_LISTED = 1_000;
    /** Of one line; more are counted in its detail; common practice, no source. */
    static final int FAULTS_LISTED = 10;

    private final SortedMap<Long, Problem> problems = new TreeMap<>();
    private long accepted;
    private long unchanged;
    private long rejected;

    synchronized void accept(long lines) {
        accepted += lines;
    }

    synchronized void leave(long lines) {
        unchanged += lines;
    }

    /** The first by line are listed, whichever lane found them. */
    synchronized void reject(long number, Problem problem) {
        rejected++;
        if (problems.size() < PROBLEMS_LISTED || number < problems.lastKey()) {
            problems.put(number, shortened(problem));
        }
        if (problems.size() > PROBLEMS_LISTED) {
            problems.remove(problems.lastKey());
        }
    }

    private static Problem shortened(Problem problem) {
        return problem.faults().size() <= FAULTS_LISTED
                ? problem
                : new Problem(problem.slug(), problem.detail(), problem.faults().subList(0, FAULTS_LISTED));
    }

    public synchronized long accepted() {
        return accepted;
    }

    public synchronized long unchanged() {
        return unchanged;
    }

    public synchronized long rejected() {
        return rejected;
    }

    /** By line. */
    public synchronized ArrayNode problems() {
        ArrayNode list = JsonNodeFactory.instance.arrayNode();
        problems.forEach((number, problem) -> {
            ObjectNode item = list.addObject().put("line", number);
            item.set("problem", problem.toWire());
        });
        return list;
    }

    /** The answer of the call. */
    public synchronized ObjectNode toWire() {
        ObjectNode answer = JsonNodeFactory.instance.objectNode().put("accepted", accepted).put("unchanged", unchanged).put("rejected", rejected);
        answer.set("problems", problems());
        return answer;
    }
}
