package comebackledger.api.picture;

import java.util.ArrayList;
import java.util.List;

/** From values to pixels. */
record Scale(double from, double to, double pixelFrom, double pixelTo) {
    double of(double value) {
        return pixelFrom + (value - from) / (to - from) * (pixelTo - pixelFrom);
    }

    /** Round values, at most about {@code count}. */
    List<Double> ticks(int count) {
        double raw = (to - from) / count;
        double power = Math.pow(10, Math.floor(Math.log10(raw)));
        double step = power * (raw / power <= 1 ? 1 : raw / power <= 2 ? 2 : raw / power <= 5 ? 5 : 10);
        List<Double> ticks = new ArrayList<>();
        for (long i = (long) Math.ceil(from / step - 1e-9); i * step <= to + step * 1e-9; i++) {
            ticks.add(i * step);
        }
        return ticks;
    }
}
