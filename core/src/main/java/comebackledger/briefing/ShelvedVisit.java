package comebackledger.briefing;

import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** A visit on the shelf: known by its place in the order, and read when it is needed, since most of a long history is not. */
public final class ShelvedVisit {
    private final String id;
    private final Instant arrivedAt;
    private final Supplier<Visit> source;
    private @Nullable Visit read;

    /** @param source reads the visit; asked once at most */
    public ShelvedVisit(String id, Instant arrivedAt, Supplier<Visit> source) {
        this.id = id;
        this.arrivedAt = arrivedAt;
        this.source = source;
    }

    /** A visit that was read already. */
    public static ShelvedVisit of(Visit visit) {
        return new ShelvedVisit(visit.id(), visit.arrivedAt(), () -> visit);
    }

    String id() {
        return id;
    }

    Instant arrivedAt() {
        return arrivedAt;
    }

    Visit read() {
        Visit known = read;
        if (known == null) {
            known = source.get();
            read = known;
        }
        return known;
    }
}
