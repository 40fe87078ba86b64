try:
    from scipy import stats
except ImportError:
    stats = None
    print("scipy is not here; the cells above need none of it")

if stats:
    scipy_laws = {"normal": stats.norm, "lognormal": stats.norm,
                  "weibull": stats.gumbel_l}
    for design in CAMPAIGN["designs"]:
        check = Check(f"{design['id']} by scipy")
        pulls = pulls_of(design)
        for fit in RESULTS[design["id"]]["fits"]:
            law = law_named(fit["family"])
            if not (law and fit["converged"]):
                continue
            frozen = scipy_laws[law.name](fit["m"], fit["s"])
            total = 0.0
            for kind, low, high in for_fit(law, pulls):
                if kind == "exact":
                    total += (frozen.logpdf(low)
                              - (low if law.log_scale else 0.0))
                elif kind == "above":
                    total += frozen.logsf(low)
                elif low > frozen.median():
                    total += math.log(frozen.sf(low)
                                      - frozen.sf(high))
                else:
                    total += math.log(frozen.cdf(high)
                                      - frozen.cdf(low))
            check.number(f"{law.name}: ln likelihood", float(total),
                         fit["log_likelihood"], 1.0)
        for row in RESULTS[design["id"]]["bounds"]:
            normal = row["family"] in ("normal", "lognormal")
            if row["method"] == "factor" and normal:
                n = sum(kind in ("exact", "closed")
                        for kind, _, _, _ in pulls)
                root, z = math.sqrt(n), stats.norm.ppf(row["content"])
                k = (stats.nct.ppf(row["confidence"], n - 1,
                                   z * root) / root)
                if math.isfinite(k):  # scipy gives up at some
                    check.number(f"{row['family']}: k", float(k),
                                 row["k"])
        check.done()
    for pair in COMPARISON["pairs"] if COMPARISON else []:
        if pair["method"] == "welch":
            designs = {design["id"]: design
                       for design in CAMPAIGN["designs"]}
            n_a, mean_a, v_a = group_of(pulls_of(designs[pair["a"]]))
            n_b, mean_b, v_b = group_of(pulls_of(designs[pair["b"]]))
            test = stats.ttest_ind_from_stats(mean_a, math.sqrt(v_a),
                                              n_a, mean_b,
                                              math.sqrt(v_b), n_b,
                                              equal_var=False)
            check = Check(f"{title_of(pair)} by scipy")
            check.number("p", float(test.pvalue), pair["p"])
            check.done()
