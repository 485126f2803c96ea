package comebackledger.visit;

import java.util.List;
import java.util.Optional;

/** The driver's vehicle inspection report (49 CFR 396.11). */
public record DriverReport(List<String> defects, Optional<Certification> certification) {
    public DriverReport {
        defects = List.copyOf(defects);
    }
}
