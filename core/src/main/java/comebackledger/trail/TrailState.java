package comebackledger.trail;

import comebackledger.visit.Place;
import java.util.ArrayList;
import java.util.List;

/** All episodes, repairs and proofs of one place, in order; the last episode that is not no-fault-found may be open. */
public record TrailState(Place place, List<EpisodeState> episodes, List<RepairState> repairs, List<ProofState> proofs) {
    static TrailState of(Place place) {
        return new TrailState(place, List.of(), List.of(), List.of());
    }

    /** The open episode's index, or -1. */
    int openIndex() {
        for (int i = episodes.size() - 1; i >= 0; i--) {
            if (episodes.get(i).open()) {
                return i;
            }
        }
        return -1;
    }

    TrailState with(int index, EpisodeState episode) {
        List<EpisodeState> changed = new ArrayList<>(episodes);
        changed.set(index, episode);
        return new TrailState(place, List.copyOf(changed), repairs, proofs);
    }

    TrailState with(EpisodeState episode) {
        List<EpisodeState> longer = new ArrayList<>(episodes);
        longer.add(episode);
        return new TrailState(place, List.copyOf(longer), repairs, proofs);
    }

    /** Takes back what a visit released as it arrived proved by its as-found tests: the same instant would make it a proof of this repair. */
    TrailState with(RepairState repair) {
        List<RepairState> longer = new ArrayList<>(repairs);
        longer.add(repair);
        List<ProofState> before = proofs.stream()
                .filter(proof -> !repair.holds() || !proof.visit().equals(repair.visit()) || proof.at().isBefore(repair.at())).toList();
        return new TrailState(place, episodes, List.copyOf(longer), before);
    }

    /** With one of its repairs having ended an episode. */
    TrailState closing(RepairState repair) {
        return new TrailState(place, episodes, repairs.stream().map(own -> own.equals(repair) ? own.closing() : own).toList(), proofs);
    }

    TrailState with(ProofState proof) {
        List<ProofState> longer = new ArrayList<>(proofs);
        longer.add(proof);
        return new TrailState(place, episodes, repairs, List.copyOf(longer));
    }
}
