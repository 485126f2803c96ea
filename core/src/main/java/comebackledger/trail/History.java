package comebackledger.trail;

import java.util.AbstractList;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.RandomAccess;

/**
 * What was seen of a unit, one entry after another: a list that only grows by its end. A long one is kept in a row with its beginning settled, and that is
 * read when somebody looks at it; most visits look at the newest entries alone.
 */
public final class History<E> extends AbstractList<E> implements RandomAccess {
    /** The beginning of a history, however it is kept. */
    public interface Settled<E> {
        int size();

        List<E> entries();
    }

    private final Settled<E> settled;
    private final List<E> newest;

    /** @param newest handed over; they follow the settled ones */
    public History(Settled<E> settled, List<E> newest) {
        this.settled = settled;
        this.newest = Collections.unmodifiableList(newest);
    }

    public static <E> History<E> of(List<E> entries) {
        return new History<>(nothing(), new ArrayList<>(entries));
    }

    private static <E> Settled<E> nothing() {
        return new Settled<>() {
            @Override
            public int size() {
                return 0;
            }

            @Override
            public List<E> entries() {
                return List.of();
            }
        };
    }

    History<E> with(List<E> more) {
        if (more.isEmpty()) {
            return this;
        }
        List<E> longer = new ArrayList<>(newest.size() + more.size());
        longer.addAll(newest);
        longer.addAll(more);
        return new History<>(settled, longer);
    }

    public Settled<E> settled() {
        return settled;
    }

    /** Those after the settled ones. */
    public List<E> newest() {
        return newest;
    }

    @Override
    public E get(int index) {
        int after = index - settled.size();
        return after < 0 ? settled.entries().get(index) : newest.get(after);
    }

    @Override
    public int size() {
        return settled.size() + newest.size();
    }
}
