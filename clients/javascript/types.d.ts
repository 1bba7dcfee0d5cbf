// Generated from shared/openapi.json by `npm run types` in clients/javascript. Not to be edited.

export interface paths {
    "/v1/search": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Search symptoms, components, codes and models
         * @description Best first, with the name that matched. A symptom lists its faults by relative frequency and the checks that tell
         *     them apart.
         */
        get: operations["search_v1_search_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/suggest": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Go on from a half-typed query
         * @description For a list below the box while somebody types: names, symptoms, codes and numbers, with the characters that are
         *     typed already.
         */
        get: operations["suggest_v1_suggest_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List models, or resolve a number
         * @description Spaces, slashes, hyphens and case do not matter, and the letter O is read as zero.
         *
         *     A near miss is answered with the nearest.
         */
        get: operations["models_v1_models_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What is known of a model
         * @description Its platform, how it differs from it, bulletins and cautions. ``model`` is a slug or a number.
         */
        get: operations["model_v1_models__model__get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/components": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The components of a model
         * @description In order of their labels.
         */
        get: operations["components_v1_models__model__components_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/components/{component}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A component with its ways in
         * @description Removals, access paths, points, faults and cautions.
         */
        get: operations["component_v1_models__model__components__component__get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/removal-plan": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What comes off first
         * @description The cheapest plan that reaches every target, with its refit, its kit and the next-best plans.
         */
        get: operations["removal_plan_v1_models__model__removal_plan_get"];
        put?: never;
        /**
         * What comes off first, asked in a body
         * @description As by GET, for requests too long for an address.
         */
        post: operations["removal_plan_by_body_v1_models__model__removal_plan_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/removal-plan/pareto": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The plans that no other beats
         * @description Every plan that is better than each other in something: minutes, parts taken off, single-use parts broken or
         *     exposures to a hazard.
         */
        get: operations["pareto_v1_models__model__removal_plan_pareto_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/safety-record": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What proves the machine safe after work
         * @description The blank record: the readings that end a job on this machine, each with its limit, its standard and edition.
         */
        get: operations["safety_record_v1_models__model__safety_record_get"];
        put?: never;
        /**
         * Judge the readings that end a job
         * @description Every line passes, fails, or is open; unknown is never a pass.
         */
        post: operations["safety_record_judged_v1_models__model__safety_record_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/while-open": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What is worth doing while the machine is open
         * @description Parts with known wear that the plan lays open: what replacing each adds now, takes alone, and so saves.
         */
        get: operations["while_open_v1_models__model__while_open_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/exposed": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What is within reach now, and by one more removal
         * @description What can be inspected, tested or replaced without another part off, and what each next removal would open.
         */
        get: operations["exposed_v1_models__model__exposed_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/components/{component}/hidden": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a part hides
         * @description Every component behind it: those no way reaches while it is on, and those the cheapest plan reaches by taking it
         *     off.
         */
        get: operations["hidden_v1_models__model__components__component__hidden_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/job-sheet": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The plan as a sheet to print
         * @description One page for paper and phone: cautions, kit, steps out and back to tick off, and the picture of the plan.
         */
        get: operations["job_sheet_v1_models__model__job_sheet_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/removal-plan/picture": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The plan as a picture
         * @description All that the targets may need off, drawn in layers, with the plan's way through it: SVG with its text.
         */
        get: operations["plan_picture_v1_models__model__removal_plan_picture_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/live-points": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What is still live
         * @description The state of every point, the path that feeds it and what would clear it. Unknown is never safe.
         */
        get: operations["live_points_v1_models__model__live_points_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/pocket": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What to take along where there is no signal
         * @description Every target and part that can be asked about, the supply as rows, and the circuit from which a client can
         *     compute the live points for any devices open and any capacitors released.
         */
        get: operations["pocket_v1_models__model__pocket_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/supply-picture": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The supply as a single-line drawing
         * @description From the sources by the plug and the controls to the loads: what is open, and what is live, off but not isolated,
         *     isolated or unknown, each by word, line and colour. SVG with its text.
         */
        get: operations["supply_picture_v1_models__model__supply_picture_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/isolation": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * How to make points safe to touch
         * @description Every smallest isolation set by energy, in an order that can be carried out, what to release, and where to prove
         *     dead.
         */
        get: operations["isolation_v1_models__model__isolation_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/make-safe": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Making safe for a plan, and restoring
         * @description The plan told as the procedure it has to follow, in the order of 29 CFR 1910.147(d), (e) and (f).
         */
        get: operations["make_safe_v1_models__model__make_safe_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/reading": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a meter should read
         * @description The expected value with the band of its tolerances, what could mislead, and which faults a measured value
         *     supports or rules out. What depends on something unknown is unknown.
         */
        get: operations["reading_v1_models__model__reading_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/energies": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Every energy of a machine
         * @description Worst kind first: how much, what isolates or releases it, how long to wait, how to verify, and who alone may.
         */
        get: operations["energies_v1_models__model__energies_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/components/{component}/curve": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Resistance over temperature
         * @description A table, the resistance at a temperature, or the temperature at a resistance, with the part's tolerance.
         */
        get: operations["curve_v1_models__model__components__component__curve_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/refrigerants/{refrigerant}/saturation": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Pressure of a refrigerant
         * @description Pressure at a temperature or temperature at a pressure, where liquid and vapour are together.
         */
        get: operations["refrigerant_saturation_v1_refrigerants__refrigerant__saturation_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/socket-check": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Is the socket in order
         * @description What a sound supply shows between each pair of conductors, what each fault of it shows, and which of them fit.
         */
        get: operations["socket_check_v1_models__model__socket_check_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/diagnosis": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * From symptoms to the next step
         * @description As posted, for symptoms and codes alone.
         */
        get: operations["diagnosis_v1_models__model__diagnosis_get"];
        put?: never;
        /**
         * From findings to the next step
         * @description The likely faults, what moved them, and the next check or remedy on the quickest expected way to a repair.
         */
        post: operations["diagnose_v1_models__model__diagnosis_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/carry": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What to carry
         * @description The parts likeliest to make one visit suffice, and the tools and consumables.
         */
        get: operations["carry_v1_models__model__carry_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/outcomes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Tell what a job has shown
         * @description The fault confirmed is kept, forced to disk before this is answered, and counted at once. Names of the content
         *     alone are taken: nothing of a person.
         */
        post: operations["tell_v1_outcomes_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/outcomes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What jobs have shown of a model
         * @description How often each fault is the one: as authored, counted on jobs, and both together.
         */
        get: operations["outcomes_v1_models__model__outcomes_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/ontology": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The ontology as a page or as RDF
         * @description Every class, property and term with its definition. The Accept header chooses: text/html for a person, Turtle,
         *     JSON-LD, RDF/XML or N-Triples for a program.
         */
        get: operations["ontology_ontology_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/codes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Codes that the machine shows or stores
         * @description Each code with the faults it points to, and the service modes that read and clear stored ones.
         */
        get: operations["codes_v1_models__model__codes_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/codes/{code}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a code says, and what it does not
         * @description What sets it, how it moves the faults, what it does not prove, how it is cleared, and what to check first.
         *
         *     Read as the machine shows it or by name; spaces, case, hyphens and O for 0 are forgiven. To go on with it and other
         *     findings, give it as ``codes`` to the diagnosis.
         */
        get: operations["code_v1_models__model__codes__code__get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/models/{model}/service-modes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Reading stored codes, test programmes
         * @description How to enter each mode, what each step shows and switches on, which points that makes live, how to leave it.
         */
        get: operations["service_modes_v1_models__model__service_modes_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Every platform with its models and versions
         * @description What is served, and what was.
         */
        get: operations["graphs_v1_graphs_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/check": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Check a draft, and see what it would change
         * @description Findings as of a check, what it says otherwise than what is published, and what that changes for a technician:
         *     plans, live points, charges and the ranking of faults. Nothing is published.
         */
        post: operations["check_v1_graphs_check_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A platform as RDF
         * @description The graph as it is served. Its ETag is what a save over it sends back.
         */
        get: operations["graph_v1_graphs__platform__get"];
        /**
         * Publish a platform
         * @description Checked first; all of it or nothing. Who reads has the version before or this one, each whole.
         */
        put: operations["publish_v1_graphs__platform__put"];
        post?: never;
        /**
         * Withdraw a platform
         * @description It is served no more; its versions stay and can be restored.
         */
        delete: operations["withdraw_v1_graphs__platform__delete"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}/versions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The versions of a platform
         * @description Who published each, when and why, the first first.
         */
        get: operations["versions_v1_graphs__platform__versions_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}/versions/{number}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A version as RDF
         * @description As it was published.
         */
        get: operations["version_v1_graphs__platform__versions__number__get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}/versions/{number}/restore": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Publish an earlier version again
         * @description It becomes a version of its own; it is checked as the words are now.
         */
        post: operations["restore_v1_graphs__platform__versions__number__restore_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}/difference": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What differs between two versions
         * @description In words, by resource.
         */
        get: operations["difference_v1_graphs__platform__difference_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/graphs/{platform}/provenance": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Who published what, when and why, as PROV-O
         * @description Entities, activities and agents of every version.
         */
        get: operations["provenance_v1_graphs__platform__provenance_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/sparql": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A query in SPARQL, or what is offered here
         * @description SPARQL 1.1 Protocol, reading only. The Accept header chooses: JSON, XML, CSV or TSV for SELECT and ASK; Turtle,
         *     N-Triples, RDF/XML or JSON-LD for CONSTRUCT and DESCRIBE. An answer is whole or a problem, never cut.
         */
        get: operations["query_by_address_sparql_get"];
        put?: never;
        /**
         * A query in SPARQL, in the body
         * @description The same as by GET, for queries that are too long for an address: a form with `query=`, or the query itself.
         */
        post: operations["query_by_body_sparql_post"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/healthz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Is the process alive
         * @description Answers as long as the process runs.
         */
        get: operations["health_healthz_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/readyz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Should requests be sent here
         * @description Every check with what it found. 503 where no request should be sent here; ``degraded`` is answered on.
         */
        get: operations["ready_readyz_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/metrics": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Counts and durations for a scraper
         * @description Requests by route, how long they took, what is held in memory, and the process.
         */
        get: operations["metrics_metrics_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/context.jsonld": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The context of the JSON-LD answers
         * @description Maps the fields of the answers to terms of the ontology.
         */
        get: operations["context_v1_context_jsonld_get"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /**
         * Alternative
         * @description A next-best plan, by what it does otherwise.
         */
        Alternative: {
            /** Minutes */
            minutes: number;
            figures: components["schemas"]["PlanFigures"];
            /**
             * Optimal
             * @description True only when it is proved the cheapest that leaves out what it leaves out.
             */
            optimal: boolean;
            /**
             * Instead
             * @description What this plan does that the best one does not.
             */
            instead: string[];
            /** Steps */
            steps: string[];
            /**
             * Ways
             * @description The removals, access paths and preparations it uses.
             * @default []
             */
            ways: string[];
        };
        /**
         * BulletinNote
         * @description A notice that touches the model in hand.
         */
        BulletinNote: {
            /** Id */
            id: string;
            /** Kind */
            kind: string;
            /** Label */
            label: string;
            /** Text */
            text: string;
        };
        /** CarryAnswer */
        CarryAnswer: {
            /** Revision */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /**
             * Understood
             * @default []
             */
            understood: components["schemas"]["UnderstoodNote"][];
            /**
             * Parts
             * @description In the order of what each adds.
             */
            parts: components["schemas"]["Ref"][];
            /**
             * Chance
             * @description That one visit suffices as far as parts go, one fault being at work.
             */
            chance: number;
            /**
             * Exact
             * @description True where no other parts, as many, are likelier to suffice.
             */
            exact: boolean;
            /**
             * Greedy
             * @description The chance of the parts taken one remedy at a time, for comparison.
             */
            greedy: number;
            /**
             * Without Remedy
             * @description Share of the faults that no described remedy ends.
             */
            without_remedy: number;
            /**
             * Tools
             * @description For the likeliest faults' remedies and checks.
             */
            tools: components["schemas"]["Ref"][];
            /** Consumables */
            consumables: string[];
            learned: components["schemas"]["LearnedNote"];
        };
        /**
         * CautionNote
         * @description A hazard, shown before the act it belongs to.
         */
        CautionNote: {
            /** Id */
            id: string;
            /**
             * Signal Word
             * @enum {string}
             */
            signal_word: "DANGER" | "WARNING" | "CAUTION" | "NOTICE";
            /** Hazard */
            hazard: string;
            /** Text */
            text: string;
            /** Protection */
            protection: string;
        };
        /**
         * ChargeChange
         * @description A capacitor that holds another charge with every isolating device open, or takes another time to lose it.
         */
        ChargeChange: {
            capacitor: components["schemas"]["Ref"];
            /** Volts Before */
            volts_before: number | null;
            /** Volts After */
            volts_after: number | null;
            /**
             * Seconds Before
             * @description None where no time is vouched for.
             */
            seconds_before: number | null;
            /** Seconds After */
            seconds_after: number | null;
        };
        /**
         * CheckHint
         * @description A check that tells the faults of a symptom apart.
         */
        CheckHint: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Component */
            component: string | null;
            /** Live */
            live: boolean;
            /** Minutes */
            minutes: number;
            /** Outcomes */
            outcomes: components["schemas"]["OutcomeHint"][];
        };
        /**
         * CircuitBulletin
         * @description A notice for an answer that names one of `parts`; for every answer where that is null.
         */
        CircuitBulletin: {
            note: components["schemas"]["BulletinNote"];
            /** Parts */
            parts: string[] | null;
        };
        /**
         * CircuitFeed
         * @description What feeds points, given by number: a source, or a store of energy, the capacitors among them.
         */
        CircuitFeed: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Energy */
            energy: string;
            /** Starts */
            starts: number[];
            /** Neutral */
            neutral: number | null;
            /**
             * Derived
             * @description True for a separated secondary: alive once a point of `derived_from` is fed.
             */
            derived: boolean;
            /** Derived From */
            derived_from: number[];
            /**
             * Holds
             * @description True for a store.
             */
            holds: boolean;
            /**
             * Capacitor
             * @description True where it feeds no more once it is released.
             */
            capacitor: boolean;
            /**
             * Wet
             * @description True where protective earth does not stop it.
             */
            wet: boolean;
            /** Volts */
            volts: number | null;
            /** Current */
            current: ("ac" | "dc") | null;
            /** Peak */
            peak: number | null;
            /** Tolerance */
            tolerance: number;
            /**
             * Known
             * @description False where a voltage should be told but is not.
             */
            known: boolean;
        };
        /**
         * CircuitLink
         * @description Joins two points, given by number. Conducts unless its device is open.
         */
        CircuitLink: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Start */
            start: number;
            /** End */
            end: number;
            /**
             * Load
             * @description True for a load, winding, capacitor or semiconductor: ways without come first.
             */
            load: boolean;
            /**
             * Device
             * @description The device that opens it; null for what none opens, such as a changeover.
             */
            device: string | null;
        };
        /**
         * CircuitPoint
         * @description A point, counted from 0 in the order given; `volts` and `current` where they differ from its source's.
         */
        CircuitPoint: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Component */
            component: string;
            /** Volts */
            volts: number | null;
            /** Current */
            current: ("ac" | "dc") | null;
        };
        /**
         * CircuitSituation
         * @description What holds with one set of the deciding devices open, whatever the others do.
         */
        CircuitSituation: {
            /**
             * Earth
             * @description Points on protective earth, by number: no way leads through them but water.
             */
            earth: number[];
            /**
             * Doubt
             * @description Points that are unknown unless they are live.
             */
            doubt: number[];
            /**
             * Cleared By
             * @description Place in `clearings`.
             */
            cleared_by: number;
            /**
             * Waits
             * @description Place in `waits`.
             */
            waits: number;
        };
        /**
         * CircuitWait
         * @description Seconds for a capacitor: at place b where of `sharing` those with a bit set in b are released.
         */
        CircuitWait: {
            /** Sharing */
            sharing: string[];
            /** Seconds */
            seconds: (number | null)[];
        };
        /**
         * CodeDetail
         * @description One code. Read ``does_not_prove`` before a part is ordered.
         */
        CodeDetail: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            code: components["schemas"]["CodeSummary"];
            /**
             * Set When
             * @description What the control must have seen; empty where the content does not tell.
             */
            set_when: string;
            /**
             * Faults
             * @description Likeliest first; those it does not point to only from one percent on.
             */
            faults: components["schemas"]["CodeFault"][];
            /**
             * Others
             * @description Share, with the code, of all faults that it does not point to.
             */
            others: number;
            /** Does Not Prove */
            does_not_prove: string[];
            /**
             * Clearing
             * @description How it goes once the cause is mended.
             */
            clearing: string;
            /**
             * Read With
             * @description Service modes that show stored codes.
             */
            read_with: components["schemas"]["Ref"][];
            /**
             * Clear With
             * @description Service modes that clear them.
             */
            clear_with: components["schemas"]["Ref"][];
            learned: components["schemas"]["LearnedNote"];
            /** @description The first check or remedy with the code as the only finding, on the quickest expected way to a repair; null where no fault explains the code. */
            first: components["schemas"]["NextStep"] | null;
        };
        /**
         * CodeFault
         * @description A fault as the code alone moves it: shares before any finding and with the code as the only one.
         */
        CodeFault: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            origin: components["schemas"]["Ref"];
            /**
             * Pointed To
             * @description False for a fault that the code does not point to and that may be there.
             */
            pointed_to: boolean;
            /** Before */
            before: number;
            /** After */
            after: number;
            /**
             * Decibans
             * @description Weight of the code as evidence; null where it is without bound.
             */
            decibans: number | null;
        };
        /** CodeList */
        CodeList: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            page: components["schemas"]["Page"];
            /** Codes */
            codes: components["schemas"]["CodeSummary"][];
            /**
             * Read With
             * @description Service modes that show stored codes.
             */
            read_with: components["schemas"]["Ref"][];
            /**
             * Clear With
             * @description Service modes that clear them.
             */
            clear_with: components["schemas"]["Ref"][];
        };
        /** CodeSummary */
        CodeSummary: {
            /** Id */
            id: string;
            /**
             * Notation
             * @description As the machine shows it.
             */
            notation: string;
            /** Label */
            label: string;
            /**
             * Stored
             * @description False for a code that is shown while it holds and not stored.
             */
            stored: boolean;
            /**
             * Faults
             * @description Faults that the code points to.
             */
            faults: components["schemas"]["Ref"][];
            /**
             * Symptoms
             * @description Symptoms that usually come with it; as a finding it counts them as there.
             */
            symptoms: components["schemas"]["Ref"][];
        };
        /**
         * CompletionNote
         * @description A phrase that goes on from what is typed, and what it leads to.
         */
        CompletionNote: {
            /** Text */
            text: string;
            /**
             * Ranges
             * @description Character ranges of `text` that are typed already.
             */
            ranges: [
                number,
                number
            ][];
            /**
             * Lang
             * @description Language of `text`; null for codes and numbers.
             */
            lang: string | null;
            /**
             * Kind
             * @enum {string}
             */
            kind: "symptom" | "component" | "code" | "model";
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Models */
            models: string[];
        };
        /** ComponentCurves */
        ComponentCurves: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            component: components["schemas"]["Ref"];
            /**
             * Ohms
             * @description The resistance asked for.
             */
            ohms: number | null;
            /** Curves */
            curves: components["schemas"]["CurveNote"][];
        };
        /** ComponentDetail */
        ComponentDetail: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Kind */
            kind: string;
            /** Zone */
            zone: string;
            /** Part Number */
            part_number: string | null;
            /** Supersedes */
            supersedes: string[];
            sits_inside: components["schemas"]["Ref"] | null;
            replaced_as: components["schemas"]["Ref"] | null;
            /** Kilograms */
            kilograms: number | null;
            /** Removals */
            removals: components["schemas"]["RemovalNote"][];
            /** Ways In */
            ways_in: components["schemas"]["WayIn"][];
            /** Points */
            points: components["schemas"]["Ref"][];
            /** Faults */
            faults: components["schemas"]["Ref"][];
            /** Cautions */
            cautions: components["schemas"]["CautionNote"][];
            /** Sources */
            sources: components["schemas"]["SourceRef"][];
        };
        /** ComponentList */
        ComponentList: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            page: components["schemas"]["Page"];
            /** Components */
            components: components["schemas"]["ComponentSummary"][];
        };
        /** ComponentSummary */
        ComponentSummary: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Kind */
            kind: string;
            /** Zone */
            zone: string;
            /** Part Number */
            part_number: string | null;
            /**
             * Serials
             * @description The serial ranges that have it, where the serial number is open and not all do.
             * @default []
             */
            serials: string[];
        };
        /**
         * ConflictNote
         * @description Findings of which each may be right, but not all together: no described fault explains them.
         */
        ConflictNote: {
            /** Findings */
            findings: components["schemas"]["firstoff_contract__diagnosis__FindingNote"][];
            /**
             * Smallest
             * @description True where no fewer findings contradict each other; else none can be left out.
             */
            smallest: boolean;
        };
        /** ConnectionNote */
        ConnectionNote: {
            /** Kind */
            kind: string;
            /** Label */
            label: string;
            /** Lock */
            lock?: string | null;
            /** Seal */
            seal?: string | null;
            /**
             * Single Use
             * @default false
             */
            single_use: boolean;
        };
        /** Consumable */
        Consumable: {
            /** Label */
            label: string;
            /** Count */
            count: number;
        };
        /**
         * CurveNote
         * @description How the resistance of one link depends on temperature.
         */
        CurveNote: {
            link: components["schemas"]["Ref"];
            /**
             * Kind
             * @description beta, inverse-polynomial, platinum or copper.
             */
            kind: string;
            /** Lowest Celsius */
            lowest_celsius: number;
            /** Highest Celsius */
            highest_celsius: number;
            /** Table */
            table: components["schemas"]["CurvePoint"][];
            /**
             * Celsius
             * @description Temperature at the resistance asked for.
             */
            celsius?: number | null;
            /**
             * Celsius Low
             * @description The same at one end of the part's tolerance.
             */
            celsius_low?: number | null;
            /** Celsius High */
            celsius_high?: number | null;
        };
        /** CurvePoint */
        CurvePoint: {
            /** Celsius */
            celsius: number;
            /**
             * Ohms
             * @description Nominal resistance in ohms.
             */
            ohms: number;
            /** Ohms Low */
            ohms_low: number;
            /** Ohms High */
            ohms_high: number;
        };
        /**
         * DeviceNote
         * @description What ``opened=`` may name.
         */
        DeviceNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Kind */
            kind: string;
            /**
             * Isolating
             * @description Only an isolating device ever counts as isolation.
             */
            isolating: boolean;
        };
        /** Diagnosis */
        Diagnosis: {
            /** Revision */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /**
             * Understood
             * @default []
             */
            understood: components["schemas"]["UnderstoodNote"][];
            /**
             * Contradicted
             * @description True where no described fault explains the findings.
             */
            contradicted: boolean;
            /** Readings */
            readings: components["schemas"]["ReadingNote"][];
            /** @description What to check again where findings contradict each other. */
            conflict: components["schemas"]["ConflictNote"] | null;
            /** Said */
            said: string;
            /** Unexplained */
            unexplained: components["schemas"]["Ref"][];
            /** Faults */
            faults: components["schemas"]["FaultShare"][];
            /**
             * Pairs
             * @description Two faults at once, where that is likelier than either alone.
             */
            pairs: components["schemas"]["firstoff_contract__diagnosis__PairNote"][];
            next: components["schemas"]["NextStep"] | null;
            /** Expected Minutes */
            expected_minutes: number | null;
            /** Bound */
            bound: number | null;
            /**
             * Exact
             * @description True where no policy over what was considered has fewer expected minutes.
             */
            exact: boolean;
            /**
             * Considered
             * @description Share of the faults the next step was worked out for.
             */
            considered: number;
            /** Service Modes */
            service_modes: components["schemas"]["ServiceModeNote"][];
            learned: components["schemas"]["LearnedNote"];
        };
        /**
         * DiagnosisRequest
         * @description Body of ``POST /v1/models/{model}/diagnosis``.
         */
        DiagnosisRequest: {
            /**
             * Symptoms
             * @description Symptoms that are there.
             */
            symptoms?: string[];
            /**
             * Absent
             * @description Symptoms looked for and not there.
             */
            absent?: string[];
            /** Outcomes */
            outcomes?: components["schemas"]["OutcomeSeen"][];
            /** Readings */
            readings?: components["schemas"]["ReadingSeen"][];
            /**
             * Codes
             * @description Codes, as shown or by name.
             */
            codes?: string[];
            /**
             * Tried
             * @description Remedies done that did not help.
             */
            tried?: string[];
            /**
             * Off
             * @description What is off as found.
             */
            off?: string[];
            /**
             * States
             * @description States in force now.
             */
            states?: string[];
            /**
             * Tools
             * @description Tools at hand; all where none given.
             */
            tools?: string[] | null;
            /**
             * Tree
             * @description True for the whole decision tree, cut where it grows too large.
             * @default false
             */
            tree: boolean;
            /** Serial */
            serial?: string | null;
        };
        /**
         * Difference
         * @description How a model or serial range departs from its platform.
         */
        Difference: {
            /**
             * Serials
             * @description Serial range, null where it holds for the whole model.
             */
            serials?: string | null;
            /**
             * Leaves Out
             * @default []
             */
            leaves_out: components["schemas"]["Ref"][];
            /**
             * Adds
             * @default []
             */
            adds: components["schemas"]["Ref"][];
            /**
             * Replaces
             * @description Pairs of original and substitute.
             * @default []
             */
            replaces: [
                components["schemas"]["Ref"],
                components["schemas"]["Ref"]
            ][];
        };
        /**
         * DifferenceNote
         * @description A resource that differs between two versions, with a sentence for each thing that changed.
         */
        DifferenceNote: {
            /**
             * Sort
             * @enum {string}
             */
            sort: "added" | "taken out" | "changed";
            /** Resource */
            resource: string;
            /** Label */
            label: string;
            /**
             * What
             * @description What it is, such as component or removal.
             */
            what: string;
            /** Sentences */
            sentences: string[];
        };
        /**
         * DrivenPoint
         * @description A point that counts as live while a step goes on.
         */
        DrivenPoint: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            component: components["schemas"]["Ref"];
            /**
             * State
             * @enum {string}
             */
            state: "live" | "off_not_isolated" | "isolated" | "unknown";
            /**
             * Volts
             * @description Highest nominal voltage to earth, null where none is known.
             */
            volts: number | null;
            /**
             * Only So
             * @description True where it is live only because this step switches it on.
             */
            only_so: boolean;
        };
        /** Energies */
        Energies: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /**
             * Ambient
             * @description Temperature of the room in degrees Celsius that times and pressures are for.
             */
            ambient: number;
            /**
             * Energies
             * @description Worst kind first.
             */
            energies: components["schemas"]["EnergyNote"][];
        };
        /** EnergyNote */
        EnergyNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * Energy
             * @description Slug of the energy kind.
             */
            energy: string;
            /** @description What holds it; null for a supply. */
            component: components["schemas"]["Ref"] | null;
            /**
             * Size
             * @description How much there is, in words; empty where nothing is told.
             */
            size: string;
            /**
             * Volts
             * @description Nominal for a supply, the highest possible for a charge.
             */
            volts: number | null;
            /** Current */
            current: ("ac" | "dc") | null;
            /** Kilopascals Gauge */
            kilopascals_gauge: number | null;
            /** Kilopascals Absolute */
            kilopascals_absolute: number | null;
            /**
             * Joules
             * @description Energy of a charge at its highest voltage and capacitance.
             */
            joules: number | null;
            /** Kilograms */
            kilograms: number | null;
            /** Litres */
            litres: number | null;
            /**
             * Celsius
             * @description Highest temperature of a hot part at switching off.
             */
            celsius: number | null;
            /**
             * Isolated By
             * @description Isolating devices that shut it off, all of them together.
             */
            isolated_by: components["schemas"]["Ref"][];
            /**
             * Release
             * @description What shuts it off, releases or blocks it.
             */
            release: string;
            /**
             * Minutes
             * @description Minutes to wait; never permission: verify.
             */
            minutes: number | null;
            /**
             * Computed
             * @description True where the minutes are computed, false where the content tells them.
             */
            computed: boolean;
            /**
             * Verify
             * @description How it is seen to be gone.
             */
            verify: string;
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence: string | null;
            /**
             * Hazard
             * @description What to do about a leak that burns.
             */
            hazard: string | null;
            /**
             * Unknown
             * @description What is not told about it.
             */
            unknown: string[];
        };
        /**
         * EnteredConfirmation
         * @description That a line without a measurement was done, and by whom.
         */
        EnteredConfirmation: {
            /**
             * Line
             * @description The id of the line.
             */
            line: string;
            /**
             * By
             * @description Name, and licence where the line asks for one.
             */
            by: string;
            /** Note */
            note?: string | null;
        };
        /**
         * EnteredReading
         * @description What an instrument showed.
         */
        EnteredReading: {
            /**
             * Quantity
             * @enum {string}
             */
            quantity: "earth-continuity" | "insulation-resistance" | "leakage-current";
            /**
             * Value
             * @description The number on the instrument.
             */
            value: number;
            /**
             * Unit
             * @description As on the instrument: ohm or mohm; Mohm, kohm or Gohm; mA or uA.
             */
            unit: string;
            /**
             * Over Range
             * @description True where the instrument showed more than `value`, the end of its range.
             * @default false
             */
            over_range: boolean;
            /**
             * Note
             * @description Where it was measured, or with what.
             */
            note?: string | null;
        };
        /**
         * Expected
         * @description A value with the band that tolerances allow, in volts or ohms; or nothing, and what it depends on.
         */
        Expected: {
            /** Known */
            known: boolean;
            /**
             * Nominal
             * @description Volts or ohms; null where it is unknown or an open circuit.
             */
            nominal: number | null;
            /**
             * Low
             * @description Lower end of the band; null where unknown, or where it is open.
             */
            low: number | null;
            /**
             * High
             * @description Upper end of the band; null where unknown, or where it may be open.
             */
            high: number | null;
            /**
             * Open Circuit
             * @description True where an ohmmeter shows an open circuit (OL).
             * @default false
             */
            open_circuit: boolean;
            /**
             * Depends On
             * @description What nobody can know from the content, where the value is unknown.
             * @default []
             */
            depends_on: components["schemas"]["Ref"][];
            /**
             * Text
             * @description The value in words.
             */
            text: string;
        };
        /**
         * Exposed
         * @description What can be inspected, tested or replaced as the machine stands, and what one more removal would open.
         */
        Exposed: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Off */
            off: components["schemas"]["Ref"][];
            /**
             * States
             * @description States taken to be in force, where they are not the initial ones.
             */
            states: components["schemas"]["Ref"][];
            /** Cautions */
            cautions: components["schemas"]["CautionNote"][];
            /**
             * Bare
             * @description Points that the parts off leave bare, with their state as things stand.
             */
            bare: components["schemas"]["Exposure"][];
            /** Now */
            now: components["schemas"]["WithinReach"][];
            /**
             * Next
             * @description Those that open most come first.
             */
            next: components["schemas"]["OneMoreOff"][];
        };
        /**
         * Exposure
         * @description A point that can be touched after a step, with its state then.
         */
        Exposure: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * State
             * @enum {string}
             */
            state: "live" | "off_not_isolated" | "isolated" | "unknown";
            /** Volts */
            volts?: number | null;
        };
        /** FasteningNote */
        FasteningNote: {
            /** Kind */
            kind: string;
            /** Count */
            count: number;
            /** Drive */
            drive?: string | null;
            /** Size */
            size?: string | null;
            /** Torque Nm */
            torque_nm?: number | null;
            /**
             * Single Use
             * @default false
             */
            single_use: boolean;
        };
        /** FaultFrequency */
        FaultFrequency: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * Authored Weight
             * @description Relative frequency as authored, before any job.
             */
            authored_weight: number;
            frequency: components["schemas"]["FrequencyNote"];
        };
        /** FaultHint */
        FaultHint: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * Models
             * @description The models whose faults these are; models of one platform share most.
             */
            models: string[];
            /** Component */
            component: string | null;
            /**
             * Share
             * @description Share among the faults of this symptom, by relative frequency, 0 to 1.
             */
            share: number;
            /**
             * Learned
             * @description How much of the frequencies is learned from jobs, 0 to 1; the rest authored.
             */
            learned: number;
            /** Remedies */
            remedies: string[];
            /**
             * Checks
             * @description Checks that speak for or against this fault.
             */
            checks: components["schemas"]["CheckHint"][];
        };
        /**
         * FaultPlace
         * @description A fault and its share, 0 to 1.
         */
        FaultPlace: {
            fault: components["schemas"]["Ref"];
            /** Share */
            share: number;
        };
        /**
         * FaultReading
         * @description What would be read under a fault.
         */
        FaultReading: {
            /** @description A fault that the content describes; null for one of the circuit alone. */
            fault: components["schemas"]["Ref"] | null;
            /**
             * Assume
             * @description As `assume=` takes it.
             */
            assume: string[];
            /** Label */
            label: string;
            /** @description Null where no such reading could be taken. */
            expected: components["schemas"]["Expected"] | null;
            /**
             * Verdict
             * @description What the measured value says of it; `fits_too` where it fits the sound machine as well.
             */
            verdict: ("supports" | "fits_too" | "rules_out" | "tells_nothing") | null;
        };
        /** FaultShare */
        FaultShare: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            origin: components["schemas"]["Ref"];
            /** Share */
            share: number;
            frequency: components["schemas"]["FrequencyNote"];
            /** @description Null where a remedy may be tried on suspicion. */
            guard: components["schemas"]["GuardNote"] | null;
            /** Remedies */
            remedies: string[];
            /** Moved */
            moved: components["schemas"]["MovedNote"][];
        };
        /**
         * FinishNote
         * @description What ends the job once all is back.
         */
        FinishNote: {
            /** Order */
            order: number;
            /** Text */
            text: string;
            /**
             * Wait Minutes
             * @description Minutes to let it rest, run or stand.
             */
            wait_minutes?: number | null;
            /**
             * Why
             * @description What in this plan asks for it; null where every job does.
             */
            why?: string | null;
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence?: string | null;
            /**
             * Recorded
             * @description True where it is entered in the safety record.
             * @default false
             */
            recorded: boolean;
        };
        /**
         * FrequencyNote
         * @description How often a fault is the one, before any finding.
         */
        FrequencyNote: {
            /**
             * Authored
             * @description The authored frequency as a number of jobs, need not be whole.
             */
            authored: number;
            /**
             * Jobs
             * @description Jobs told on which this fault was confirmed.
             */
            jobs: number;
            /**
             * Weight
             * @description Relative frequency used: authored and jobs together, over all faults.
             */
            weight: number;
        };
        /**
         * GraphCheck
         * @description A draft: what a check finds in it, what it says otherwise than what is published, and what that changes.
         */
        GraphCheck: {
            /** Platform */
            platform: string;
            /**
             * Ok
             * @description True where nothing keeps it from being published.
             */
            ok: boolean;
            /** Findings */
            findings: components["schemas"]["firstoff_contract__authoring__FindingNote"][];
            /**
             * Compared With
             * @description Revision that is published; none where the platform is new.
             */
            compared_with: string | null;
            /** Differences */
            differences: components["schemas"]["DifferenceNote"][];
            /**
             * Models
             * @description Models for which an answer changes.
             */
            models: components["schemas"]["ModelChange"][];
            /**
             * Complete
             * @description False where time ended before every plan was compared.
             */
            complete: boolean;
        };
        /**
         * GraphEntry
         * @description A platform that is served, or was.
         */
        GraphEntry: {
            /** Platform */
            platform: string;
            /**
             * Revision
             * @description None where it is not served.
             */
            revision: string | null;
            /** Status */
            status: ("draft" | "reviewed") | null;
            /** Versions */
            versions: number;
            /** Models */
            models: components["schemas"]["Ref"][];
        };
        /**
         * GraphList
         * @description Every platform, with its models.
         */
        GraphList: {
            /** Graphs */
            graphs: components["schemas"]["GraphEntry"][];
        };
        /**
         * GuardNote
         * @description A part that is not replaced on suspicion, as it is dear or fails rarely.
         */
        GuardNote: {
            part: components["schemas"]["Ref"];
            /**
             * Why
             * @description dear, fails rarely, or price not told, which counts as dear.
             */
            why: string;
            /**
             * Look Alikes
             * @description Faults still possible that share a symptom with it and cost less to end, the cheapest first: rule these out.
             */
            look_alikes: components["schemas"]["Ref"][];
            /**
             * Confirm
             * @description Checks still to make that confirm the fault, the quickest first.
             */
            confirm: components["schemas"]["Ref"][];
            /**
             * Confirmed By
             * @description Checks made, after which the fault is still possible.
             */
            confirmed_by: components["schemas"]["Ref"][];
        };
        /**
         * HazardNote
         * @description One exposure that counts when exposures are made fewest.
         */
        HazardNote: {
            /**
             * Kind
             * @enum {string}
             */
            kind: "live" | "stored" | "weight" | "refrigerant";
            /** Text */
            text: string;
        };
        /** Health */
        Health: {
            /**
             * Status
             * @constant
             */
            status: "ok";
            /** Version */
            version: string;
        };
        /**
         * Hidden
         * @description What stands behind a component.
         */
        Hidden: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            component: components["schemas"]["Ref"];
            /**
             * Always
             * @description No way leads there with the component on.
             */
            always: components["schemas"]["HiddenPart"][];
            /**
             * Usually
             * @description The cheapest plan takes the component off, and another way leads there without.
             */
            usually: components["schemas"]["HiddenPart"][];
            /**
             * Complete
             * @description False where the time ended before every plan was found.
             */
            complete: boolean;
        };
        /**
         * HiddenCheck
         * @description A check of a part that went back before, which a step hides for good.
         */
        HiddenCheck: {
            component: components["schemas"]["Ref"];
            kind: components["schemas"]["Ref"] | null;
            /** Text */
            text: string;
        };
        /** HiddenPart */
        HiddenPart: {
            component: components["schemas"]["Ref"];
            /**
             * Purposes
             * @description What it cannot be reached for while the part in front is on.
             */
            purposes: ("inspect" | "test" | "live-test" | "replace")[];
        };
        /** Hit */
        Hit: {
            /**
             * Kind
             * @enum {string}
             */
            kind: "symptom" | "component" | "code" | "model";
            /** Id */
            id: string;
            /**
             * Label
             * @description What it is called in the language of the answer; in English where it has no name.
             */
            label: string;
            /**
             * Lang
             * @description Language of `label`.
             */
            lang: string;
            /**
             * Matched
             * @description The name that matched.
             */
            matched: string;
            /**
             * Ranges
             * @description Character ranges of `matched` that met the query.
             */
            ranges: [
                number,
                number
            ][];
            /** Score */
            score: number;
            /** Models */
            models: string[];
            /**
             * Faults
             * @description For symptoms: faults by relative frequency.
             * @default []
             */
            faults: components["schemas"]["FaultHint"][];
        };
        /** IsolationAnswer */
        IsolationAnswer: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Touch */
            touch: string[];
            /**
             * Sets
             * @description Every smallest set, by energy.
             */
            sets: components["schemas"]["IsolationSetNote"][];
            /** Prove Dead */
            prove_dead: components["schemas"]["ProveDead"][];
            /**
             * Upstream Only
             * @description True where some energy can only be isolated upstream of the appliance.
             */
            upstream_only: boolean;
            /**
             * Upstream Energies
             * @description The energies for which that is so.
             */
            upstream_energies: string[];
            /**
             * If Neutral Proved
             * @description What would do once the neutral of a fixed supply is measured dead to earth; never before.
             */
            if_neutral_proved: components["schemas"]["IsolationSetNote"][];
            /**
             * Unknown
             * @description Points nothing is known about: treat as live.
             */
            unknown: string[];
        };
        /** IsolationDevice */
        IsolationDevice: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Kind */
            kind: string;
            /** Instruction */
            instruction: string;
            /**
             * Minutes
             * @description Minutes to reach and open it: the removal plan to get at it included.
             */
            minutes?: number | null;
            /**
             * Lockable
             * @description Whether a lock can hold it open; null: not told.
             */
            lockable?: boolean | null;
        };
        /** IsolationSetNote */
        IsolationSetNote: {
            /** Energy */
            energy: string;
            /**
             * Devices
             * @description In the order in which to open them.
             */
            devices: components["schemas"]["IsolationDevice"][];
            /**
             * Minutes
             * @description Minutes for all of them; the least comes first.
             */
            minutes?: number | null;
            /**
             * Release
             * @description What to release afterwards, and how.
             */
            release: components["schemas"]["ReleaseNote"][];
        };
        /** JudgedReading */
        JudgedReading: {
            /** Value */
            value: number;
            /** Unit */
            unit: string;
            /** Over Range */
            over_range: boolean;
            /** Note */
            note: string | null;
            /**
             * Verdict
             * @enum {string}
             */
            verdict: "pass" | "fail" | "not_measured" | "unknown" | "not_applicable";
        };
        /** Kit */
        Kit: {
            /** Tools */
            tools: components["schemas"]["Ref"][];
            /**
             * Consumables
             * @description What the work uses up: single-use parts, seals, ties, pastes.
             */
            consumables: components["schemas"]["Consumable"][];
            /**
             * Parts
             * @description The components to be replaced, as they are ordered.
             */
            parts: components["schemas"]["KitPart"][];
        };
        /** KitPart */
        KitPart: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Part Number */
            part_number: string | null;
        };
        /**
         * LearnedNote
         * @description What an answer's frequencies rest on.
         */
        LearnedNote: {
            /**
             * Authored Jobs
             * @description How many jobs the authored frequencies are taken to be worth.
             */
            authored_jobs: number;
            /**
             * Jobs
             * @description Jobs told that count for this machine.
             */
            jobs: number;
            /**
             * Learned
             * @description How much of the frequencies is learned, 0 to 1; the rest is authored.
             */
            learned: number;
            /**
             * Revision
             * @description Digest of the jobs that were kept; null where none are kept.
             */
            revision: string | null;
            /**
             * Said
             * @description The same in a sentence.
             */
            said: string;
        };
        /**
         * Lifting
         * @description What the plan would be without a limit, or several.
         */
        Lifting: {
            /**
             * Lifts
             * @description Limits, and tools that are not at hand, that would have to be lifted.
             */
            lifts: string[];
            /** @description Of the plan then; null where it was not worked out in time. */
            figures: components["schemas"]["PlanFigures"] | null;
            /**
             * Proved
             * @description True only when that plan is proved to be the best then.
             */
            proved: boolean;
            /** Text */
            text: string;
        };
        /**
         * LimitNote
         * @description A limit of the day: what it rules out of this plan, and what would lift it.
         */
        LimitNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Lifted By */
            lifted_by: string;
            /** Rules Out */
            rules_out: components["schemas"]["RuledOut"][];
        };
        /** LivePoint */
        LivePoint: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Component */
            component: string;
            /**
             * Energy
             * @description Energy kind of the source that feeds it, null where none does.
             */
            energy: string | null;
            /**
             * State
             * @enum {string}
             */
            state: "live" | "off_not_isolated" | "isolated" | "unknown";
            /**
             * Volts
             * @description Highest nominal voltage to earth, null where none is known.
             */
            volts: number | null;
            /** Current */
            current: ("ac" | "dc") | null;
            /**
             * Fed By
             * @description The path from the source, empty where nothing feeds the point.
             */
            fed_by: components["schemas"]["PathStep"][];
            /**
             * Through Load
             * @description True where it is live only by way of a load, winding or the like.
             */
            through_load: boolean;
            /**
             * Cleared By
             * @description Every smallest set of isolating devices that would isolate it.
             */
            cleared_by: string[][];
            /**
             * Fault
             * @description The single fault that makes it so, where the worst is asked for; null without any.
             */
            fault?: string | null;
        };
        /** LivePoints */
        LivePoints: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Opened */
            opened: string[];
            /** Off */
            off: string[];
            /**
             * Released
             * @description Capacitors stated as discharged and proved dead.
             */
            released: string[];
            /**
             * Assume
             * @description Faults that are taken to be there.
             * @default []
             */
            assume: string[];
            /** Points */
            points: components["schemas"]["LivePoint"][];
            /** Stored */
            stored: components["schemas"]["StoredCharge"][];
        };
        /**
         * MakeSafe
         * @description What must be isolated, released and proved dead before the first step that bares anything.
         */
        MakeSafe: {
            /** Needed */
            needed: boolean;
            /** Devices */
            devices: components["schemas"]["MakeSafeDevice"][];
            /** Release */
            release: components["schemas"]["ReleaseNote"][];
            /** Prove Dead */
            prove_dead: components["schemas"]["ProveDead"][];
            /**
             * Upstream Only
             * @description True where some energy can only be isolated upstream of the appliance.
             */
            upstream_only: boolean;
            /**
             * Unknown
             * @description Points of the plan that nothing is known about: treat as live.
             */
            unknown: string[];
        };
        /** MakeSafeDevice */
        MakeSafeDevice: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Energy */
            energy: string;
            /** Instruction */
            instruction: string;
        };
        /**
         * ModelChange
         * @description What a change means for a technician in front of one model, or of one serial range of it.
         */
        ModelChange: {
            model: components["schemas"]["Ref"];
            /** Serial Range */
            serial_range: string | null;
            /**
             * Sort
             * @enum {string}
             */
            sort: "added" | "taken out" | "changed";
            /**
             * Plans
             * @default []
             */
            plans: components["schemas"]["PlanChange"][];
            /**
             * Points
             * @default []
             */
            points: components["schemas"]["PointChange"][];
            /**
             * Charges
             * @default []
             */
            charges: components["schemas"]["ChargeChange"][];
            /**
             * Faults
             * @default []
             */
            faults: components["schemas"]["RankChange"][];
        };
        /** ModelDetail */
        ModelDetail: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /** Bulletins */
            bulletins: components["schemas"]["BulletinNote"][];
            /** Id */
            id: string;
            /** Number */
            number: string;
            /** Label */
            label: string;
            platform: components["schemas"]["Ref"];
            /** Maker */
            maker: string;
            /** Kind */
            kind: string;
            /**
             * Status
             * @enum {string}
             */
            status: "draft" | "reviewed";
            /** Serial Range */
            serial_range: string | null;
            /** Differs */
            differs: components["schemas"]["Difference"][];
            /** Cautions */
            cautions: components["schemas"]["CautionNote"][];
            /**
             * Counts
             * @description How many of each kind; only those all possible serial ranges share.
             */
            counts: {
                [key: string]: number;
            };
            /** Devices */
            devices: components["schemas"]["DeviceNote"][];
            /**
             * Capacitors
             * @description What `released=` may name.
             */
            capacitors: components["schemas"]["Ref"][];
            /** States */
            states: components["schemas"]["StateNote"][];
            /**
             * Tools
             * @description What `tools=` may name.
             */
            tools: components["schemas"]["Ref"][];
            /** Links */
            links: {
                [key: string]: string;
            };
        };
        /** ModelList */
        ModelList: {
            page: components["schemas"]["Page"];
            /** Models */
            models: components["schemas"]["ModelSummary"][];
            /**
             * Nearest
             * @description Nearest numbers where none matched.
             * @default []
             */
            nearest: components["schemas"]["ModelSummary"][];
            /** Revision */
            revision: string;
        };
        /** ModelSummary */
        ModelSummary: {
            /** Id */
            id: string;
            /** Number */
            number: string;
            /** Label */
            label: string;
            platform: components["schemas"]["Ref"];
            /** Maker */
            maker: string;
            /** Kind */
            kind: string;
        };
        /** MovedNote */
        MovedNote: {
            /** Kind */
            kind: string;
            /** Finding */
            finding: string;
            /** Before */
            before: number;
            /** After */
            after: number;
            /**
             * Decibans
             * @description Weight of evidence; null where it is without bound or undefined.
             */
            decibans: number | null;
        };
        /** NextStep */
        NextStep: {
            /**
             * Id
             * @description Null: nothing described is left that is worth doing; get help.
             */
            id: string | null;
            /** Kind */
            kind: string;
            /** Label */
            label: string;
            /** Component */
            component: string | null;
            /** Live */
            live: boolean;
            /** Instruction */
            instruction: string;
            /**
             * Minutes
             * @description With the way there and back from how the machine stands.
             */
            minutes: number;
            /** Expected Minutes */
            expected_minutes: number;
            /**
             * Opens
             * @description Ways and preparations that are still to do to get there.
             */
            opens: string[];
            /**
             * Reach
             * @description As the removal plan and make-safe take it: ask them before anything is opened. Null where there is nothing to ask.
             */
            reach: string | null;
            /** @description Of a remedy that replaces a dear or rarely failing part. */
            guard: components["schemas"]["GuardNote"] | null;
            /** Then */
            then: components["schemas"]["Then"][];
        };
        /**
         * OneMoreOff
         * @description A removal that could be done next, and what it would bring within reach.
         */
        OneMoreOff: {
            component: components["schemas"]["Ref"];
            way: components["schemas"]["Ref"];
            /** Minutes Out */
            minutes_out: number;
            /** Minutes Back */
            minutes_back: number;
            /**
             * States
             * @description States to bring about first.
             */
            states: components["schemas"]["Ref"][];
            /** Opens */
            opens: components["schemas"]["WithinReach"][];
        };
        /** OutcomeHint */
        OutcomeHint: {
            /** Label */
            label: string;
            /** Speaks For */
            speaks_for: string[];
            /** Rules Out */
            rules_out: string[];
        };
        /**
         * OutcomeKept
         * @description What was kept of the job; the same whenever the same report is sent with the same key.
         */
        OutcomeKept: {
            /**
             * Revision
             * @description Digest of the graph revision that the report was checked against.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            /** Id */
            id: string;
            /** Model */
            model: string;
            /** Fault */
            fault: string;
            /** Remedy */
            remedy: string | null;
            /** Symptoms */
            symptoms: string[];
            /** Absent */
            absent: string[];
            /** Outcomes */
            outcomes: components["schemas"]["OutcomeSeen"][];
            /** Codes */
            codes: string[];
            /** On */
            on: string;
        };
        /**
         * OutcomeReport
         * @description Body of ``POST /v1/outcomes``. No name, address, serial number or text of one's own is taken.
         */
        OutcomeReport: {
            /**
             * Model
             * @description Slug, or number as on the rating plate.
             */
            model: string;
            /**
             * Fault
             * @description The fault that was confirmed. May be left out where the remedy ends one fault alone.
             */
            fault?: string | null;
            /**
             * Remedy
             * @description The remedy that worked.
             */
            remedy?: string | null;
            /**
             * Symptoms
             * @description Symptoms that were there.
             */
            symptoms?: string[];
            /**
             * Absent
             * @description Symptoms looked for and not there.
             */
            absent?: string[];
            /**
             * Outcomes
             * @description What checks showed; kept in the words of the check.
             */
            outcomes?: components["schemas"]["OutcomeSeen"][];
            /**
             * Codes
             * @description Codes, as shown or by name.
             */
            codes?: string[];
            /**
             * On
             * @description Day of the job, as 2026-11-27; today (UTC) if not given.
             */
            on?: string | null;
        };
        /** OutcomeSeen */
        OutcomeSeen: {
            /** Check */
            check: string;
            /**
             * Label
             * @description As the check words it; where its outcomes have bounds, the value read will do.
             */
            label: string;
        };
        /**
         * OutcomeSummary
         * @description What jobs have shown of a model, likeliest fault first.
         */
        OutcomeSummary: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            learned: components["schemas"]["LearnedNote"];
            /** Faults */
            faults: components["schemas"]["FaultFrequency"][];
            /**
             * Left Out
             * @description Jobs kept of this platform that do not count here: their machine can have fewer faults than this one, or this one cannot have theirs.
             */
            left_out: number;
            /**
             * First
             * @description Day of the first of the jobs counted.
             */
            first: string | null;
            /**
             * Last
             * @description Day of the last of them.
             */
            last: string | null;
        };
        /** Page */
        Page: {
            /** Total */
            total: number;
            /** Offset */
            offset: number;
            /** Limit */
            limit: number;
            /**
             * Next
             * @description Address of the next page, null on the last.
             */
            next?: string | null;
        };
        /**
         * ParetoAnswer
         * @description The plans that no other beats in minutes, parts taken off, single-use parts broken and exposures alike.
         */
        ParetoAnswer: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Reach */
            reach: components["schemas"]["Target"][];
            /**
             * Off
             * @description What was said to be off already; the plans put it back.
             */
            off: components["schemas"]["Ref"][];
            /**
             * States
             * @description States taken to be in force at the start, where they are not the initial ones.
             */
            states: components["schemas"]["Ref"][];
            /**
             * Complete
             * @description True only when it is proved that no further plan belongs to these.
             */
            complete: boolean;
            /**
             * Plans
             * @description The quickest first; one for each set of figures.
             */
            plans: components["schemas"]["ParetoPlan"][];
            /**
             * Limits
             * @description The limits given, tools at hand among them, and what they rule out.
             */
            limits: components["schemas"]["LimitNote"][];
        };
        /**
         * ParetoPlan
         * @description A plan that no other beats in everything.
         */
        ParetoPlan: {
            figures: components["schemas"]["PlanFigures"];
            /**
             * Best At
             * @description What no other plan has less of, where the plans differ in it.
             */
            best_at: ("minutes" | "parts" | "single-use" | "exposure")[];
            /**
             * Text
             * @description What it is best at, and what that costs beside the quickest.
             */
            text: string;
            /**
             * Instead
             * @description What this plan does that the quickest does not.
             */
            instead: string[];
            /** Steps */
            steps: string[];
            /**
             * Ways
             * @description The removals, access paths and preparations it uses.
             */
            ways: string[];
        };
        /**
         * PathStep
         * @description A point or a link on the way from a source.
         */
        PathStep: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * What
             * @enum {string}
             */
            what: "source" | "point" | "link";
        };
        /**
         * PlanChange
         * @description The cheapest plan to replace a component, out and back in minutes, before and after; None where there is none.
         */
        PlanChange: {
            component: components["schemas"]["Ref"];
            /** Minutes Before */
            minutes_before: number | null;
            /** Minutes After */
            minutes_after: number | null;
            /**
             * Off Before
             * @description Components taken off, in order, by their labels.
             */
            off_before: string[];
            /** Off After */
            off_after: string[];
        };
        /**
         * PlanFigures
         * @description What a plan has of everything that can be made smallest, out and back.
         */
        PlanFigures: {
            /** Minutes */
            minutes: number;
            /**
             * Parts
             * @description Parts taken off, counted each time.
             */
            parts: number;
            /**
             * Single Use
             * @description Single-use fastenings, connections and parts broken.
             */
            single_use: number;
            /**
             * Exposures
             * @description Exposures to a hazard: live parts, stored energy, more than 23 kg lifted alone, refrigerant work.
             */
            exposures: number;
        };
        /**
         * PlanRequest
         * @description Body of ``POST /v1/models/{model}/removal-plan``.
         */
        PlanRequest: {
            /**
             * Reach
             * @description Targets as `component` or `component:purpose`; purpose is inspect, test, live-test or replace, and replace where none is given. Without any the plan closes up a machine of which `off` or `states` say how it stands.
             */
            reach?: string[];
            /**
             * Off
             * @description What is off as found: components, or the removals that took them off. The plan puts it back, by the removal named or by any.
             */
            off?: string[];
            /**
             * States
             * @description States in force now, where they are not the initial ones.
             */
            states?: string[];
            /**
             * Tools
             * @description Tools at hand. All tools are taken to be at hand where none are given.
             */
            tools?: string[] | null;
            /**
             * Serial
             * @description Serial number on the rating plate.
             */
            serial?: string | null;
            /**
             * Minimise
             * @description What the plan makes smallest: minutes, parts taken off, single-use parts broken, or exposures to a hazard. Of plans that are alike in it, the one with the fewest minutes is taken.
             * @default minutes
             * @enum {string}
             */
            minimise: "minutes" | "parts" | "single-use" | "exposure";
            /**
             * Limits
             * @description Limits of the day: alone, no-refrigerant-licence or machine-fixed.
             */
            limits?: string[];
        };
        /**
         * PlanStepRef
         * @description A step of the removal plan for the same request.
         */
        PlanStepRef: {
            /**
             * Way
             * @description The list of the plan that the step is in.
             * @enum {string}
             */
            way: "steps" | "refit";
            /** N */
            n: number;
        };
        /** Pocket */
        Pocket: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /**
             * Reach
             * @description Every target that there is a way to, as component:purpose.
             */
            reach: string[];
            /**
             * Touch
             * @description Every component that isolation says something about.
             */
            touch: string[];
            /**
             * Rows
             * @description The supply from top to bottom, each row after the one it hangs below.
             */
            rows: components["schemas"]["SupplyRow"][];
            /** @description Null where it cannot be exact without the service. */
            circuit: components["schemas"]["PocketCircuit"] | null;
            /** Why No Circuit */
            why_no_circuit: string | null;
        };
        /**
         * PocketCircuit
         * @description With this the live points can be computed for any devices open and any capacitors released, no part off.
         */
        PocketCircuit: {
            /** Points */
            points: components["schemas"]["CircuitPoint"][];
            /** Links */
            links: components["schemas"]["CircuitLink"][];
            /**
             * Feeds
             * @description Sources first, then stores.
             */
            feeds: components["schemas"]["CircuitFeed"][];
            /** Devices */
            devices: string[];
            /** Isolating */
            isolating: string[];
            /**
             * Deciding
             * @description The devices that isolate or open an earth bond.
             */
            deciding: string[];
            /**
             * Situations
             * @description At place b where of `deciding` those with a bit set in b are open.
             */
            situations: components["schemas"]["CircuitSituation"][];
            /**
             * Sets
             * @description Answers to what would clear a point, each once.
             */
            sets: string[][][];
            /**
             * Clearings
             * @description For each point a place in `sets`.
             */
            clearings: number[][];
            /**
             * Stored
             * @description What each capacitor holds, its time aside.
             */
            stored: components["schemas"]["StoredCharge"][];
            /** Times */
            times: components["schemas"]["CircuitWait"][];
            /**
             * Waits
             * @description For each of `stored` a place in `times`.
             */
            waits: number[][];
            /** Bulletins */
            bulletins: components["schemas"]["CircuitBulletin"][];
        };
        /**
         * PointChange
         * @description A point whose condition differs with the devices ``opened``; none opened is the machine as it stands.
         */
        PointChange: {
            point: components["schemas"]["Ref"];
            /** Opened */
            opened: components["schemas"]["Ref"][];
            /**
             * Before
             * @description None where the point is not there.
             */
            before: ("live" | "off_not_isolated" | "isolated" | "unknown") | null;
            /** After */
            after: ("live" | "off_not_isolated" | "isolated" | "unknown") | null;
        };
        /**
         * Problem
         * @description Body of every error; further members depend on ``type``.
         */
        Problem: {
            /**
             * Type
             * @description Stable address of the kind of problem.
             */
            type: string;
            /** Title */
            title: string;
            /** Status */
            status: number;
            /**
             * Detail
             * @description What is wrong, in a sentence.
             */
            detail: string;
            /**
             * Mend
             * @description What to do about it.
             */
            mend: string;
            /** Instance */
            instance?: string | null;
            /**
             * Request Id
             * @description What the log has the error under.
             */
            request_id?: string | null;
            /**
             * Nearest
             * @description Nearest names that do exist.
             */
            nearest?: string[] | null;
            /**
             * Models
             * @description Models that a number may stand for.
             */
            models?: string[] | null;
            /**
             * Ranges
             * @description Serial ranges and how they differ.
             */
            ranges?: string[] | null;
            /**
             * Target
             * @description The target that cannot be reached.
             */
            target?: string | null;
            /**
             * Obstacles
             * @description What stands in the way, a sentence for each step.
             */
            obstacles?: string[] | null;
            /**
             * Missing Tools
             * @description Tools that would lift the obstacle.
             */
            missing_tools?: string[] | null;
            /**
             * Fields
             * @description Where a request is wrong, and what.
             */
            fields?: {
                [key: string]: string;
            }[] | null;
        } & {
            [key: string]: unknown;
        };
        /**
         * Procedure
         * @description What a plan does, told as the procedure it has to follow, and how the machine is restored.
         */
        Procedure: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Reach */
            reach: components["schemas"]["Target"][];
            /**
             * Needed
             * @description False where the plan brings nothing that carries energy within reach.
             */
            needed: boolean;
            /**
             * Minutes
             * @description Working minutes of the plan, out and back.
             */
            minutes: number;
            /**
             * Energies
             * @description What has to be made safe, in words, with its size where that is known.
             */
            energies: string[];
            sole_control: components["schemas"]["SoleControl"];
            /**
             * Upstream Only
             * @description True where some energy can only be isolated upstream of the appliance.
             */
            upstream_only: boolean;
            /**
             * Unknown
             * @description Points of the plan that nothing is known about: treat as live.
             */
            unknown: string[];
            /** Cautions */
            cautions: components["schemas"]["CautionNote"][];
            /**
             * Prove Dead
             * @description What is measured wherever a step says to prove dead.
             */
            prove_dead: components["schemas"]["ProveDead"][];
            /** Steps */
            steps: components["schemas"]["ProcedureNote"][];
            /**
             * Standard
             * @description Whose order this is.
             * @default 29 CFR 1910.147 (United States); where other rules hold, they come first.
             */
            standard: string;
            /**
             * Settled
             * @description False where the plan was not proved in the time allowed.
             */
            settled: boolean;
        };
        /** ProcedureNote */
        ProcedureNote: {
            /** N */
            n: number;
            /**
             * Stage
             * @enum {string}
             */
            stage: "prepare" | "tell" | "shut_down" | "get_at" | "isolate" | "lock_and_tag" | "release" | "verify" | "work" | "inspect" | "clear_people" | "take_locks_off" | "restore" | "read_hands_off";
            /**
             * Part
             * @enum {string}
             */
            part: "make_safe" | "work" | "live_test" | "restore";
            /** Text */
            text: string;
            /**
             * Clause
             * @description Where its place in the order is from; null for work.
             */
            clause: string | null;
            /**
             * Devices
             * @description The isolating devices it is about.
             */
            devices: components["schemas"]["Ref"][];
            /**
             * Plan Steps
             * @description The steps of the removal plan that it stands for.
             */
            plan_steps: components["schemas"]["PlanStepRef"][];
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence?: string | null;
        };
        /** ProveDead */
        ProveDead: {
            /**
             * Kind
             * @enum {string}
             */
            kind: "prove_tester" | "measure" | "verify";
            /** Points */
            points: string[];
            /** Text */
            text: string;
        };
        /**
         * Published
         * @description What was made the version that is served.
         */
        Published: {
            /** Platform */
            platform: string;
            version: components["schemas"]["VersionNote"];
            /**
             * Revision
             * @description Revision of the whole content that answers come from now.
             */
            revision: string;
            /** Warnings */
            warnings: components["schemas"]["firstoff_contract__authoring__FindingNote"][];
            /**
             * Differences
             * @description From the version before.
             */
            differences: components["schemas"]["DifferenceNote"][];
            /**
             * Models
             * @description The models it touches.
             */
            models: components["schemas"]["Ref"][];
        };
        /**
         * RankChange
         * @description The likeliest faults for one symptom alone, before and after.
         */
        RankChange: {
            symptom: components["schemas"]["Ref"];
            /** Before */
            before: components["schemas"]["FaultPlace"][];
            /** After */
            after: components["schemas"]["FaultPlace"][];
        };
        /** Readiness */
        Readiness: {
            /**
             * Status
             * @description The worst of the checks: `degraded` where something of the service is missing, `unavailable` where no request should be sent to it.
             * @enum {string}
             */
            status: "ready" | "degraded" | "unavailable";
            /** Checks */
            checks: components["schemas"]["ReadinessCheck"][];
            /** Revision */
            revision: string;
            /** Platforms */
            platforms: number;
            /** Models */
            models: number;
            /** Refused */
            refused: components["schemas"]["Refused"][];
        };
        /**
         * ReadinessCheck
         * @description One thing that has to hold.
         */
        ReadinessCheck: {
            /** Name */
            name: string;
            /**
             * Status
             * @enum {string}
             */
            status: "ready" | "degraded" | "unavailable";
            /**
             * Said
             * @description What was found, in a sentence.
             */
            said: string;
        };
        /** ReadingAnswer */
        ReadingAnswer: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Between */
            between: components["schemas"]["Ref"][];
            /**
             * Quantity
             * @enum {string}
             */
            quantity: "ac-voltage" | "dc-voltage" | "resistance";
            /**
             * Unit
             * @enum {string}
             */
            unit: "V" | "ohm";
            /** Opened */
            opened: string[];
            /**
             * Actuated
             * @description Devices whose changeover contacts are thrown over.
             */
            actuated: string[];
            /** Off */
            off: string[];
            /** Released */
            released: string[];
            /** Assume */
            assume: string[];
            /**
             * Celsius
             * @description Temperature of the parts, in degrees Celsius.
             */
            celsius: number;
            /** @description On a meter of 10 megohm, or on an ohmmeter. */
            expected: components["schemas"]["Expected"];
            /**
             * Declared
             * @description True where the value is told by the content and not computed.
             */
            declared: boolean;
            /**
             * Low Impedance
             * @description Volts on a meter of low impedance; null for ohms or where unknown.
             */
            low_impedance: number | null;
            /**
             * Ghost Volts
             * @description Volts that strays may show on 10 megohm where a low-impedance meter shows next to none; null where nothing misleads.
             */
            ghost_volts: number | null;
            /** @description With an unpolarised plug the other way round, where that differs. */
            turned: components["schemas"]["Expected"] | null;
            /**
             * Through
             * @description What carries the current of an ohmmeter.
             */
            through: components["schemas"]["Ref"][];
            /**
             * Capacitors
             * @description Capacitors that make an ohmmeter's reading climb.
             */
            capacitors: components["schemas"]["Ref"][];
            /**
             * Notes
             * @description What to know before the reading is believed.
             */
            notes: string[];
            /** Measured */
            measured: number | null;
            /** Measured Open */
            measured_open: boolean;
            /**
             * Fits
             * @description Whether the measured value fits the machine as assumed; null where nothing was measured or nothing is known.
             */
            fits: boolean | null;
            /**
             * Faults
             * @description Those that a value would tell, supported ones first.
             */
            faults: components["schemas"]["FaultReading"][];
        };
        /**
         * ReadingNote
         * @description What a reading says of the faults that the content describes.
         */
        ReadingNote: {
            /** Label */
            label: string;
            /**
             * Expected
             * @description What a sound machine shows, in words.
             */
            expected: string;
            /**
             * Fits
             * @description Whether the value fits a sound machine; null where that is unknown.
             */
            fits: boolean | null;
            /**
             * Supports
             * @description Faults under which it would be read, and not in a sound machine.
             */
            supports: components["schemas"]["Ref"][];
            /**
             * Rules Out
             * @description Faults under which something else would be read.
             */
            rules_out: components["schemas"]["Ref"][];
            /**
             * Circuit
             * @description Faults of the circuit that no described fault stands for, and that fit.
             */
            circuit: string[];
            /**
             * Notes
             * @description What to know before the reading is believed.
             */
            notes: string[];
        };
        /**
         * ReadingSeen
         * @description What a meter showed: two points, a value, and how the machine stood. Or likelihoods of one's own.
         */
        ReadingSeen: {
            /**
             * Between
             * @description Points of the probes, the red first.
             */
            between?: string[];
            /**
             * Quantity
             * @default voltage
             * @enum {string}
             */
            quantity: "voltage" | "ac-voltage" | "dc-voltage" | "resistance";
            /**
             * Value
             * @description As shown, such as 230, 12.4 kohm or OL.
             * @default
             */
            value: string;
            /**
             * Opened
             * @description Devices that were open.
             */
            opened?: string[];
            /**
             * Actuated
             * @description Devices that were thrown over.
             */
            actuated?: string[];
            /**
             * Off
             * @description What was off while it was read.
             */
            off?: string[];
            /**
             * Released
             * @description Capacitors that were discharged.
             */
            released?: string[];
            /**
             * Celsius
             * @description Of the parts; 20 if not given.
             */
            celsius?: number | null;
            /**
             * Label
             * @description What the reading is called; made up if not given.
             * @default
             */
            label: string;
            /**
             * Likelihoods
             * @description In place of points and value: by fault, 0 to 1, how likely the reading is if it is at work; 1 if left out.
             */
            likelihoods?: {
                [key: string]: number;
            };
        };
        /** RecordBody */
        RecordBody: {
            /** @description The family of standards whose limits are used; null where none is told. */
            standard: components["schemas"]["Ref"] | null;
            /** Standard Note */
            standard_note: string;
            /** Facts */
            facts: components["schemas"]["RecordFact"][];
            /** Lines */
            lines: components["schemas"]["RecordLine"][];
            /**
             * Verdict
             * @description Only `pass` lets the machine be handed over.
             * @enum {string}
             */
            verdict: "pass" | "fail" | "not_measured" | "unknown";
            /** Advice */
            advice: string[];
        };
        /**
         * RecordFact
         * @description A fact about the machine that its limits depend on; null where the content does not say.
         */
        RecordFact: {
            /** Name */
            name: string;
            /** Value */
            value: string | null;
        };
        /**
         * RecordLimit
         * @description The limit of a measurement; a reading at the limit is within it.
         */
        RecordLimit: {
            /** At Most */
            at_most: number | null;
            /** At Least */
            at_least: number | null;
            /** Unit */
            unit: string;
            /** Standard */
            standard: string;
            /** Edition */
            edition: string;
            /** Clause */
            clause: string | null;
            /**
             * Confirmed
             * @description How this service came by the value.
             * @enum {string}
             */
            confirmed: "secondary text" | "from memory" | "common practice, no source";
            /**
             * Why
             * @description Which facts about the machine lead to this limit.
             */
            why: string;
        };
        /**
         * RecordLine
         * @description One measurement or confirmation.
         */
        RecordLine: {
            /** Id */
            id: string;
            /**
             * Kind
             * @enum {string}
             */
            kind: "measurement" | "confirmation";
            /** Label */
            label: string;
            /** How */
            how: string;
            /**
             * With Supply
             * @description True where it is done with the machine plugged in.
             */
            with_supply: boolean;
            /** Unit */
            unit: string | null;
            limit: components["schemas"]["RecordLimit"] | null;
            /**
             * Missing
             * @description Facts about the machine without which there is no limit.
             */
            missing: string[];
            /**
             * Places
             * @description Where to measure: those first whose earth was undone.
             * @default []
             */
            places: components["schemas"]["RecordPlace"][];
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence?: string | null;
            /**
             * Only After
             * @description What must have been done for the line to apply, any of it.
             * @default []
             */
            only_after: string[];
            /**
             * Readings
             * @default []
             */
            readings: components["schemas"]["JudgedReading"][];
            /** Confirmed By */
            confirmed_by?: string | null;
            /** Note */
            note?: string | null;
            /**
             * Verdict
             * @enum {string}
             */
            verdict: "pass" | "fail" | "not_measured" | "unknown" | "not_applicable";
            /**
             * Advice
             * @description What to do about the verdict.
             */
            advice: string;
        };
        /**
         * RecordPlace
         * @description A metal part that is bonded to earth.
         */
        RecordPlace: {
            component: components["schemas"]["Ref"];
            /**
             * Opened
             * @description True where the work undid an earth of it.
             */
            opened: boolean;
        };
        /**
         * RecordRequest
         * @description Body of ``POST /v1/models/{model}/safety-record``.
         */
        RecordRequest: {
            /** Readings */
            readings?: components["schemas"]["EnteredReading"][];
            /** Confirmed */
            confirmed?: components["schemas"]["EnteredConfirmation"][];
            /**
             * Done
             * @description Components taken off, preparations made and states brought about. Lines that depend on them are asked for where nothing is said; empty where none was.
             */
            done?: string[] | null;
            /**
             * Serial
             * @description Serial number on the rating plate.
             */
            serial?: string | null;
        };
        /**
         * Ref
         * @description A resource named by its slug and shown by its label.
         */
        Ref: {
            /** Id */
            id: string;
            /** Label */
            label: string;
        };
        /** RefitCheck */
        RefitCheck: {
            /** Text */
            text: string;
            /**
             * Before Cover
             * @description True where it can only be seen before the next part goes on.
             */
            before_cover: boolean;
            /** @description What is looked at: orientation, routing, seal, earth, latch, fit or function. */
            kind?: components["schemas"]["Ref"] | null;
            /**
             * After Supply
             * @description True where electricity or water must be back for it.
             * @default false
             */
            after_supply: boolean;
            /**
             * Wait Minutes
             * @description Minutes to let it rest before the work goes on.
             */
            wait_minutes?: number | null;
        };
        /**
         * Refused
         * @description A content file that is not served, and why.
         */
        Refused: {
            /** File */
            file: string;
            /** Line */
            line: number | null;
            /** Reason */
            reason: string;
        };
        /**
         * RejectedWay
         * @description Another way to serve a target, take off a part or bring about a state of the plan, and why it was not taken.
         */
        RejectedWay: {
            way: components["schemas"]["Ref"];
            /** @description The target, component or state that it is another way for. */
            of: components["schemas"]["Ref"];
            /**
             * Kind
             * @enum {string}
             */
            kind: "limit" | "tools" | "live" | "never" | "more" | "alike";
            /** Reason */
            reason: string;
            /**
             * More
             * @description How much more it takes of what is made smallest, at least; null where not known.
             */
            more?: number | null;
            /**
             * Proved
             * @description True only when it takes exactly so much more, or is ruled out altogether.
             */
            proved: boolean;
        };
        /** ReleaseNote */
        ReleaseNote: {
            /** Id */
            id: string;
            /** Energy */
            energy: string;
            component: components["schemas"]["Ref"];
            /** Text */
            text: string;
            /**
             * Minutes
             * @description Minutes to wait where a time is stated; never permission.
             */
            minutes: number | null;
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence: string | null;
            /**
             * Verify
             * @description How it is seen to be gone.
             * @default
             */
            verify: string;
        };
        /** RemovalNote */
        RemovalNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Needs Off */
            needs_off: components["schemas"]["Ref"][];
            /** Needs States */
            needs_states: components["schemas"]["Ref"][];
            /** Fastenings */
            fastenings: components["schemas"]["FasteningNote"][];
            /** Connections */
            connections: components["schemas"]["ConnectionNote"][];
            /** Tools */
            tools: components["schemas"]["Ref"][];
            /** Persons */
            persons: number;
            /** Minutes Out */
            minutes_out: number;
            /** Minutes Back */
            minutes_back: number;
            /** Bares */
            bares: components["schemas"]["Ref"][];
            /**
             * Opens
             * @description Links it opens: connectors, earth wires.
             */
            opens: components["schemas"]["Ref"][];
            /** Consumables */
            consumables: string[];
            /**
             * Single Use
             * @description True where the component itself must be new when it goes back.
             */
            single_use: boolean;
            /** Checks */
            checks: components["schemas"]["RefitCheck"][];
            /** Instruction */
            instruction: string;
            /**
             * Refit Instruction
             * @description How it goes back, where that is more than the reverse.
             * @default
             */
            refit_instruction: string;
            /** Sources */
            sources: components["schemas"]["SourceRef"][];
        };
        /** RemovalPlan */
        RemovalPlan: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Reach */
            reach: components["schemas"]["Target"][];
            /**
             * Off
             * @description What was said to be off already; the plan puts it back.
             */
            off: components["schemas"]["Ref"][];
            /**
             * States
             * @description States taken to be in force at the start, where they are not the initial ones.
             */
            states: components["schemas"]["Ref"][];
            /**
             * Minutes
             * @description Working minutes out and back with all preparations and their undoing.
             */
            minutes: number;
            /**
             * Minimise
             * @description What was made smallest.
             * @enum {string}
             */
            minimise: "minutes" | "parts" | "single-use" | "exposure";
            figures: components["schemas"]["PlanFigures"];
            /**
             * Optimal
             * @description True only when no better plan exists, proved; where live points are bare at the start, none that begins by isolating.
             */
            optimal: boolean;
            /**
             * Bound
             * @description No plan can have less than this of what was made smallest.
             */
            bound: number;
            /**
             * Bound Minutes
             * @description No plan that has as little as that can take fewer minutes than this.
             */
            bound_minutes: number;
            /**
             * Limits
             * @description The limits given, tools at hand among them, and what they rule out.
             */
            limits: components["schemas"]["LimitNote"][];
            /**
             * Liftings
             * @description What it would be worth to lift a limit that rules out something.
             */
            liftings: components["schemas"]["Lifting"][];
            /**
             * Order Proved
             * @description True where, of all orders of these acts that can be carried out, this one is proved to have the fewest acts by hand with the electrical supply on, then the fewest tool changes, then the fewest zone changes, then heavy or awkward parts off as briefly as possible.
             */
            order_proved: boolean;
            /**
             * Rejected
             * @description The other ways there are, and why each was not taken.
             */
            rejected: components["schemas"]["RejectedWay"][];
            /** Cautions */
            cautions: components["schemas"]["CautionNote"][];
            make_safe: components["schemas"]["MakeSafe"];
            /** Steps */
            steps: components["schemas"]["Step"][];
            /** Refit */
            refit: components["schemas"]["Step"][];
            /**
             * Finish
             * @description What ends the job, in order; only what this plan gives cause for.
             */
            finish: components["schemas"]["FinishNote"][];
            /**
             * Waiting Minutes
             * @description Minutes of waiting beside the work, one after the other; waits that can run together take less.
             */
            waiting_minutes: number;
            /** @description The blank safety record of this plan; null where nothing is taken off or bared. */
            record: components["schemas"]["RecordBody"] | null;
            kit: components["schemas"]["Kit"];
            /** Alternatives */
            alternatives: components["schemas"]["Alternative"][];
            /**
             * Alternatives Complete
             * @description False where the search ended before it had found as many alternatives as it looks for; there may be more.
             */
            alternatives_complete: boolean;
        };
        /**
         * RuledOut
         * @description A way that could matter to this plan, and why a limit rules it out.
         */
        RuledOut: {
            way: components["schemas"]["Ref"];
            /** Reason */
            reason: string;
        };
        /**
         * SafetyRecord
         * @description Blank, or with readings judged.
         */
        SafetyRecord: {
            /** @description The family of standards whose limits are used; null where none is told. */
            standard: components["schemas"]["Ref"] | null;
            /** Standard Note */
            standard_note: string;
            /** Facts */
            facts: components["schemas"]["RecordFact"][];
            /** Lines */
            lines: components["schemas"]["RecordLine"][];
            /**
             * Verdict
             * @description Only `pass` lets the machine be handed over.
             * @enum {string}
             */
            verdict: "pass" | "fail" | "not_measured" | "unknown";
            /** Advice */
            advice: string[];
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
        };
        /**
         * Saturation
         * @description A refrigerant where liquid and vapour are together.
         */
        Saturation: {
            refrigerant: components["schemas"]["Ref"];
            /**
             * Flammable
             * @description Safety class A3 of ISO 817.
             */
            flammable: boolean;
            /** Celsius */
            celsius: number;
            /** Kilopascals Absolute */
            kilopascals_absolute: number;
            /**
             * Kilopascals Gauge
             * @description Below zero where it is under the pressure of the air.
             */
            kilopascals_gauge: number;
            /** Ambient Kilopascals */
            ambient_kilopascals: number;
            /**
             * Error
             * @description Largest error of the pressure as a fraction, against the equation of state.
             */
            error: number;
            /** Source */
            source: string;
        };
        /** SearchAnswer */
        SearchAnswer: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            /** Query */
            query: string;
            /**
             * Lang
             * @description Language of the query, by what it met; null where unclear.
             */
            lang?: string | null;
            /** Hits */
            hits: components["schemas"]["Hit"][];
            /**
             * Note
             * @description Said where nothing good was found.
             */
            note?: string | null;
            /**
             * Suggestions
             * @description Words to try where nothing good was found.
             * @default []
             */
            suggestions: string[];
        };
        /** ServiceModeDetail */
        ServiceModeDetail: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Kinds */
            kinds: components["schemas"]["Ref"][];
            /**
             * Instruction
             * @description The whole mode in a sentence or two.
             */
            instruction: string;
            /**
             * Cautions
             * @description Worst first; read them before the mode is entered.
             */
            cautions: components["schemas"]["CautionNote"][];
            /**
             * Supply
             * @description Whether the electricity supply is on in this mode.
             * @enum {string}
             */
            supply: "on" | "off" | "not-told";
            /**
             * Needs States
             * @description States the machine must be in, all the while.
             */
            needs_states: components["schemas"]["Ref"][];
            /**
             * Needs Fitted
             * @description Components that must be in place, all the while.
             */
            needs_fitted: components["schemas"]["Ref"][];
            /**
             * Steps
             * @description In order; empty where the content tells the instruction alone.
             */
            steps: components["schemas"]["ServiceStepNote"][];
            /** Sources */
            sources: components["schemas"]["SourceRef"][];
        };
        /** ServiceModeList */
        ServiceModeList: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Service Modes */
            service_modes: components["schemas"]["ServiceModeDetail"][];
        };
        /** ServiceModeNote */
        ServiceModeNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Instruction */
            instruction: string;
        };
        /** ServiceStepNote */
        ServiceStepNote: {
            /** Order */
            order: number;
            /**
             * Stage
             * @enum {string}
             */
            stage: "enter" | "read" | "run" | "set" | "clear" | "leave";
            /** Text */
            text: string;
            /**
             * Shows
             * @description What a sound machine then shows or does; empty where nothing is told.
             */
            shows: string;
            /**
             * Minutes
             * @description How long it takes, or goes on by itself; null where it is not told.
             */
            minutes: number | null;
            /**
             * Runs
             * @description What it switches on.
             */
            runs: components["schemas"]["Ref"][];
            /**
             * Closes
             * @description Control devices by way of which it does.
             */
            closes: components["schemas"]["Ref"][];
            /**
             * Live
             * @description Points that are live, or not known not to be, while it goes on.
             */
            live: components["schemas"]["DrivenPoint"][];
            /**
             * Untold
             * @description What it switches on and no point of is described: all of it counts as live.
             */
            untold: components["schemas"]["Ref"][];
        };
        /** SocketCheck */
        SocketCheck: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            supply: components["schemas"]["Ref"];
            /**
             * Fixed
             * @description True for fixed wiring, false for plug and socket.
             */
            fixed: boolean;
            /** Pairs */
            pairs: components["schemas"]["firstoff_contract__socket__PairNote"][];
            /**
             * Conditions
             * @description The sound one first; those that fit before those that do not.
             */
            conditions: components["schemas"]["SupplyCondition"][];
            /** Notes */
            notes: string[];
        };
        /**
         * SoleControl
         * @description Whether keeping the plug in hand will do instead of a lock.
         */
        SoleControl: {
            /** Will Do */
            will_do: boolean;
            /** Text */
            text: string;
            /**
             * Clause
             * @default 29 CFR 1910.147(a)(2)(iii)(A)
             */
            clause: string;
        };
        /**
         * SourceRef
         * @description The document behind a statement, and where in it.
         */
        SourceRef: {
            /** Id */
            id: string;
            /** Title */
            title: string;
            /** Locator */
            locator?: string | null;
        };
        /**
         * StateNote
         * @description What ``states=`` may name; the states of one variable exclude each other.
         */
        StateNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Variable */
            variable: string;
            /** Initial */
            initial: boolean;
        };
        /**
         * Step
         * @description One act, with its cautions to be read before it.
         */
        Step: {
            /** N */
            n: number;
            /**
             * Action
             * @enum {string}
             */
            action: "prepare" | "undo" | "remove" | "refit" | "inspect" | "test" | "replace" | "isolate" | "attach_probes" | "restore_supply" | "read_hands_off" | "isolate_again" | "release" | "prove_dead" | "verify";
            /**
             * Way
             * @description The removal, way in or preparation that is carried out; `off` takes removals by this name.
             */
            way?: string | null;
            component: components["schemas"]["Ref"] | null;
            /** Label */
            label: string;
            /** Instruction */
            instruction: string;
            /**
             * Needed For
             * @description The targets it is needed for, the nearest first.
             */
            needed_for: components["schemas"]["Ref"][];
            /**
             * Because
             * @description What it is needed for next, in a sentence.
             * @default
             */
            because: string;
            /**
             * Makes Possible
             * @description The later steps of the same list that rely on it directly, by their numbers.
             * @default []
             */
            makes_possible: number[];
            /**
             * Fastenings
             * @default []
             */
            fastenings: components["schemas"]["FasteningNote"][];
            /**
             * Connections
             * @default []
             */
            connections: components["schemas"]["ConnectionNote"][];
            /**
             * Tools
             * @default []
             */
            tools: components["schemas"]["Ref"][];
            /**
             * Persons
             * @default 1
             */
            persons: number;
            /** Minutes */
            minutes: number;
            /**
             * Wait Minutes
             * @description Minutes to wait where a time is stated.
             */
            wait_minutes?: number | null;
            /**
             * Competence
             * @description Who alone may do it.
             */
            competence?: string | null;
            /**
             * Cautions
             * @default []
             */
            cautions: components["schemas"]["CautionNote"][];
            /**
             * Exposes
             * @description Points bared by this step, with their state after it.
             * @default []
             */
            exposes: components["schemas"]["Exposure"][];
            /**
             * Renew
             * @description Single-use parts that must be new, when this refits.
             * @default []
             */
            renew: components["schemas"]["Consumable"][];
            /**
             * Consumables
             * @description What this uses up besides, when it refits.
             * @default []
             */
            consumables: components["schemas"]["Consumable"][];
            /**
             * Checks
             * @description What must be true again, when this step refits; what the next part hides comes first.
             * @default []
             */
            checks: components["schemas"]["RefitCheck"][];
            /**
             * Hides Checks
             * @description Checks of parts put back before, which nobody can make any more after this step.
             * @default []
             */
            hides_checks: components["schemas"]["HiddenCheck"][];
            /**
             * Sources
             * @default []
             */
            sources: components["schemas"]["SourceRef"][];
            /**
             * Exposures
             * @description The exposures to a hazard that count in this step.
             * @default []
             */
            exposures: components["schemas"]["HazardNote"][];
            /**
             * States
             * @description The states in force after it that are not the initial ones, as `states` takes them to go on from here; null where the step changes none.
             */
            states?: string[] | null;
        };
        /** StoredCharge */
        StoredCharge: {
            /** Component */
            component: string;
            /** Label */
            label: string;
            /** Link */
            link: string;
            /**
             * Volts
             * @description Highest voltage it can hold, at upper supply tolerance; null: not stated.
             */
            volts: number | null;
            /**
             * Wait S
             * @description Seconds for the bleed alone, all tolerances at their worst; never permission.
             */
            wait_s: number | null;
            /** Safe Volts */
            safe_volts: number;
            /** Standard */
            standard: string;
            /** Release */
            release: string;
            /**
             * Joules
             * @description Energy at the highest voltage and capacitance.
             */
            joules?: number | null;
        };
        /** SuggestAnswer */
        SuggestAnswer: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            /** Query */
            query: string;
            /**
             * Completions
             * @description Best first; one for each thing that is meant.
             */
            completions: components["schemas"]["CompletionNote"][];
        };
        /**
         * SupplyCondition
         * @description What may be the matter with a supply.
         */
        SupplyCondition: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Mend */
            mend: string;
            /**
             * Danger
             * @description True where metal may be live or without earth.
             */
            danger: boolean;
            /**
             * Fits
             * @description Whether all that was measured fits; null where nothing was measured.
             */
            fits: boolean | null;
            /**
             * Volts
             * @description Least and most volts by pair; a pair that is left out may show anything, ghost voltages too.
             */
            volts: {
                [key: string]: number[];
            };
        };
        /**
         * SupplyRow
         * @description A device, part, source or end of a line. It is as bad as the worst of its points; each point is in some row.
         */
        SupplyRow: {
            /** Id */
            id: string;
            /**
             * Parent
             * @description The row it hangs below; null at the top.
             */
            parent: string | null;
            /** Label */
            label: string;
            /**
             * What
             * @enum {string}
             */
            what: "supply" | "battery" | "pipe" | "coupling" | "isolator" | "control" | "fuse" | "filter" | "converter" | "winding" | "load" | "capacitor" | "earth" | "end";
            /**
             * Component
             * @description The part it stands for, or that the device belongs to.
             */
            component: string | null;
            /**
             * Device
             * @description The device, where it is one that can be opened.
             */
            device: string | null;
            /**
             * Isolating
             * @description True where opening it counts as isolation.
             */
            isolating: boolean;
            /**
             * Coupled
             * @description True where a transformer or converter lies between it and the row above.
             */
            coupled: boolean;
            /**
             * Line
             * @description Those of its points that are on the line from the row above.
             */
            line: string[];
            /**
             * Beyond
             * @description Those that a device feeds: dead where it is open and nothing else feeds.
             */
            beyond: string[];
            /**
             * Points
             * @description All of its points.
             */
            points: string[];
        };
        /** Target */
        Target: {
            component: components["schemas"]["Ref"];
            /**
             * Purpose
             * @enum {string}
             */
            purpose: "inspect" | "test" | "live-test" | "replace";
        };
        /**
         * Then
         * @description An outcome: ``faults`` are the shares once it is seen, ``next_step`` what to do then.
         */
        Then: {
            /** Outcome */
            outcome: string;
            /** Probability */
            probability: number;
            /** Faults */
            faults: {
                [key: string]: number;
            };
            /** Next Step */
            next_step: string | null;
            /** @description The rest of the tree; null where it was not asked for, or is cut. */
            step: components["schemas"]["NextStep"] | null;
            /** Cut */
            cut: boolean;
        };
        /**
         * UnderstoodNote
         * @description Words that are no symptom's name, and the symptom they were taken for; ``others`` they might mean too.
         */
        UnderstoodNote: {
            /** Words */
            words: string;
            taken_for: components["schemas"]["Ref"];
            /** Others */
            others: components["schemas"]["Ref"][];
        };
        /**
         * VersionDifference
         * @description What differs between two versions, in words, and for a technician.
         */
        VersionDifference: {
            /** Platform */
            platform: string;
            /** Before */
            before: number | null;
            /** After */
            after: number | null;
            /** Differences */
            differences: components["schemas"]["DifferenceNote"][];
        };
        /**
         * VersionList
         * @description The versions of one platform, the first first.
         */
        VersionList: {
            /** Platform */
            platform: string;
            /** Versions */
            versions: components["schemas"]["VersionNote"][];
        };
        /**
         * VersionNote
         * @description A version of a platform: who made it the one that is served, when and why.
         */
        VersionNote: {
            /** Number */
            number: number;
            /**
             * Act
             * @enum {string}
             */
            act: "published" | "restored" | "found" | "withdrawn";
            /**
             * Revision
             * @description Digest of the text, empty where the platform was withdrawn.
             */
            revision: string;
            /** Who */
            who: string;
            /** When */
            when: string;
            /** Why */
            why: string;
            /**
             * Restored
             * @description The version whose text it has again.
             */
            restored: number | null;
        };
        /** WayIn */
        WayIn: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /**
             * Purpose
             * @enum {string}
             */
            purpose: "inspect" | "test" | "replace";
            /** Audience */
            audience: string;
            /** Live */
            live: boolean;
            /** Minutes */
            minutes: number;
            /** Needs Off */
            needs_off: components["schemas"]["Ref"][];
            /** Needs Fitted */
            needs_fitted: components["schemas"]["Ref"][];
            /** Needs States */
            needs_states: components["schemas"]["Ref"][];
            /** Tools */
            tools: components["schemas"]["Ref"][];
            /** Bares */
            bares: components["schemas"]["Ref"][];
            /** Instruction */
            instruction: string;
            /** Sources */
            sources: components["schemas"]["SourceRef"][];
        };
        /**
         * WearNote
         * @description A fault that comes with use.
         */
        WearNote: {
            /** Id */
            id: string;
            /** Label */
            label: string;
            /** Failure Mode */
            failure_mode: string;
            /**
             * Relative Frequency
             * @description How often, relative to the other faults of the platform.
             */
            relative_frequency: number;
        };
        /**
         * WhileOpen
         * @description What is worth doing while the machine is open for a plan, the most frequent wear first.
         */
        WhileOpen: {
            /**
             * Revision
             * @description Digest of the graph revision the answer was computed from.
             */
            revision: string;
            /**
             * Notice
             * @description What always comes before this answer.
             * @default Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live.
             */
            notice: string;
            /**
             * Draft
             * @description True where it rests on content that nobody has reviewed: verify it on the machine first.
             * @default false
             */
            draft: boolean;
            /**
             * Bulletins
             * @description Notices that touch what the answer names.
             * @default []
             */
            bulletins: components["schemas"]["BulletinNote"][];
            model: components["schemas"]["Ref"];
            /** Reach */
            reach: components["schemas"]["Ref"][];
            /**
             * Minutes
             * @description Minutes of the plan itself.
             */
            minutes: number;
            /** Worth */
            worth: components["schemas"]["WorthDoing"][];
            /**
             * Complete
             * @description False where the time ended before every part was looked at.
             */
            complete: boolean;
        };
        /**
         * WithinReach
         * @description A component within reach without another part off.
         */
        WithinReach: {
            component: components["schemas"]["Ref"];
            /**
             * Purpose
             * @enum {string}
             */
            purpose: "inspect" | "test" | "live-test" | "replace";
            /** @description The way in or the removal; null where the part is off already. */
            way: components["schemas"]["Ref"] | null;
            /**
             * States
             * @description States to bring about first: those the way needs that are not in force.
             */
            states: components["schemas"]["Ref"][];
        };
        /**
         * WorthDoing
         * @description A part with known wear that needs no further part off, besides itself.
         */
        WorthDoing: {
            component: components["schemas"]["Ref"];
            /** Part Number */
            part_number: string | null;
            /** Wear */
            wear: components["schemas"]["WearNote"][];
            /**
             * Minutes More
             * @description Minutes that replacing it adds to the plan.
             */
            minutes_more: number;
            /**
             * Minutes Alone
             * @description Minutes that replacing it takes in a job of its own.
             */
            minutes_alone: number;
            /**
             * Saves
             * @description Minutes saved by doing it now.
             */
            saves: number;
        };
        /**
         * FindingNote
         * @description Something a check found, with its place: a line of a Turtle file, or a row and column of a sheet.
         */
        firstoff_contract__authoring__FindingNote: {
            /**
             * Severity
             * @enum {string}
             */
            severity: "error" | "warning";
            /** Rule */
            rule: string;
            /** Resource */
            resource: string | null;
            /** Label */
            label: string | null;
            /** Message */
            message: string;
            /** Mend */
            mend: string;
            /** File */
            file: string;
            /**
             * Line
             * @description Line of a Turtle file, row of a sheet; counted from 1.
             */
            line: number | null;
            /** Sheet */
            sheet?: string | null;
            /** Column */
            column?: string | null;
        };
        /** FindingNote */
        firstoff_contract__diagnosis__FindingNote: {
            /**
             * Kind
             * @description present, absent, code, outcome, reading or tried.
             */
            kind: string;
            /**
             * Id
             * @description Of the symptom, code, check or remedy; empty for a reading.
             */
            id: string;
            /** Label */
            label: string;
        };
        /** PairNote */
        firstoff_contract__diagnosis__PairNote: {
            /** Faults */
            faults: components["schemas"]["Ref"][];
            /**
             * Times
             * @description How many times likelier than the likelier of them alone; null: boundless.
             */
            times: number | null;
        };
        /**
         * PairNote
         * @description Two conductors that a meter is put between.
         */
        firstoff_contract__socket__PairNote: {
            /**
             * Pair
             * @description As `measured=` takes it, such as line-neutral.
             */
            pair: string;
            /** Between */
            between: components["schemas"]["Ref"][];
            /**
             * Low
             * @description Least volts of a sound supply; null where nothing can be said.
             */
            low: number | null;
            /** High */
            high: number | null;
            /** Measured */
            measured: number | null;
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    search_v1_search_get: {
        parameters: {
            query?: {
                /** @description What to look for; typing errors are forgiven. */
                q?: string;
                /** @description The model in hand. */
                model?: string | null;
                /** @description One kind only. */
                kind?: ("symptom" | "component" | "code" | "model") | null;
                /** @description Language to answer in, such as en. */
                lang?: string | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
                /** @description How many hits at the most. */
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SearchAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    suggest_v1_suggest_get: {
        parameters: {
            query?: {
                /** @description What is typed so far; typing errors are forgiven. */
                q?: string;
                /** @description The model in hand. */
                model?: string | null;
                /** @description Language where the query shows none. */
                lang?: string | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
                /** @description How many completions at the most. */
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SuggestAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    models_v1_models_get: {
        parameters: {
            query?: {
                /** @description Number as it stands on a rating plate. */
                number?: string | null;
                /** @description How many to pass over. */
                offset?: number;
                /** @description How many to give at the most. */
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ModelList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    model_v1_models__model__get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ModelDetail"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    components_v1_models__model__components_get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
                /** @description How many to pass over. */
                offset?: number;
                /** @description How many to give at the most. */
                limit?: number;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ComponentList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    component_v1_models__model__components__component__get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
                component: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ComponentDetail"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    removal_plan_v1_models__model__removal_plan_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RemovalPlan"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    removal_plan_by_body_v1_models__model__removal_plan_post: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PlanRequest"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RemovalPlan"];
                };
            };
            /** @description The body cannot be read. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    pareto_v1_models__model__removal_plan_pareto_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ParetoAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    safety_record_v1_models__model__safety_record_get: {
        parameters: {
            query?: {
                /** @description Component taken off, preparation made or state brought about. Repeats. Leave out where nothing is said; blank where none was. */
                done?: string[];
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SafetyRecord"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    safety_record_judged_v1_models__model__safety_record_post: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RecordRequest"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SafetyRecord"];
                };
            };
            /** @description The body cannot be read. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    while_open_v1_models__model__while_open_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WhileOpen"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    exposed_v1_models__model__exposed_get: {
        parameters: {
            query?: {
                /** @description Component that is off, or the removal that took it off. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Exposed"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    hidden_v1_models__model__components__component__hidden_get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
                component: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Hidden"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    job_sheet_v1_models__model__job_sheet_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    plan_picture_v1_models__model__removal_plan_picture_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    live_points_v1_models__model__live_points_get: {
        parameters: {
            query?: {
                /** @description Device that is open. Repeats. */
                opened?: string[];
                /** @description Component that is off, or the removal that took it off. Repeats. */
                off?: string[];
                /** @description Capacitor discharged and proved dead. Repeats. */
                released?: string[];
                /** @description Point, or component with points, to show; all where none is given. */
                at?: string[];
                /** @description Fault taken to be there, as kind:name: open, shorted, earthed or high-resistance with a link, welded with a device or contact; open-neutral, swapped or lost-earth, with a supply where there are several. Repeats. */
                assume?: string[];
                /** @description True for the worst state of each point over no fault and every single one. */
                worst?: boolean;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LivePoints"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    pocket_v1_models__model__pocket_get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Pocket"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    supply_picture_v1_models__model__supply_picture_get: {
        parameters: {
            query?: {
                /** @description Device that is open. Repeats. */
                opened?: string[];
                /** @description Component that is off, or the removal that took it off. Repeats. */
                off?: string[];
                /** @description Capacitor discharged and proved dead. Repeats. */
                released?: string[];
                /** @description Point or component to draw, with what leads there; all where none is given. */
                at?: string[];
                /** @description Columns side by side: 1 for a phone, 2 or 3 for paper. */
                columns?: number;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    isolation_v1_models__model__isolation_get: {
        parameters: {
            query?: {
                /** @description Point or component to be touched. Repeats. */
                touch?: string[];
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["IsolationAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    make_safe_v1_models__model__make_safe_get: {
        parameters: {
            query?: {
                /** @description Target as component or component:purpose (inspect, test, live-test, replace). Repeats. Without any, a machine that stands open is closed up. */
                reach?: string[];
                /** @description Component that is off as found, or the removal that took it off; it is put back. Repeats. */
                off?: string[];
                /** @description State in force now, where it is not the initial one. Repeats. */
                states?: string[];
                /** @description Tool at hand. Repeats. Leave out where all are; blank where none is. */
                tools?: string[];
                /** @description Limit of the day: alone, no-refrigerant-licence or machine-fixed. Repeats. */
                limits?: string[];
                /** @description What the plan makes smallest; ties go by minutes. */
                minimise?: "minutes" | "parts" | "single-use" | "exposure";
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Procedure"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    reading_v1_models__model__reading_get: {
        parameters: {
            query?: {
                /** @description Point a probe goes to: give two, the red one first. */
                between?: string[];
                /** @description What is measured. */
                quantity?: "voltage" | "ac-voltage" | "dc-voltage" | "resistance";
                /** @description Device that is open. Repeats. */
                opened?: string[];
                /** @description Device whose changeover contact is thrown over: door shut, motor at speed. Repeats. */
                actuated?: string[];
                /** @description Component that is off, or the removal that took it off. Repeats. */
                off?: string[];
                /** @description Capacitor discharged and proved dead. Repeats. */
                released?: string[];
                /** @description Fault taken to be there, as kind:name: open, shorted, earthed or high-resistance with a link, welded with a device or contact; open-neutral, swapped or lost-earth, with a supply where there are several. Repeats. */
                assume?: string[];
                /** @description Temperature of the parts in degrees Celsius; 20 if not given. */
                celsius?: number | null;
                /** @description What the meter shows, such as 230, 12.4 kohm or OL. */
                measured?: string | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    energies_v1_models__model__energies_get: {
        parameters: {
            query?: {
                /** @description Temperature of the room in degrees Celsius; 30 if not given. */
                ambient?: number | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Energies"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    curve_v1_models__model__components__component__curve_get: {
        parameters: {
            query?: {
                /** @description Temperature in degrees Celsius. */
                celsius?: number | null;
                /** @description Resistance in ohms. */
                ohms?: number | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
                component: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ComponentCurves"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    refrigerant_saturation_v1_refrigerants__refrigerant__saturation_get: {
        parameters: {
            query?: {
                /** @description Temperature in degrees Celsius, from -45 to 75. */
                celsius?: number | null;
                /** @description Gauge pressure in kilopascals. */
                kilopascals_gauge?: number | null;
                /** @description Absolute pressure in kilopascals. */
                kilopascals_absolute?: number | null;
                /** @description Pressure of the air in kilopascals. */
                ambient?: number;
            };
            header?: never;
            path: {
                refrigerant: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Saturation"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    socket_check_v1_models__model__socket_check_get: {
        parameters: {
            query?: {
                /** @description Volts between two conductors, as pair:volts, such as line-neutral:229. Repeats. */
                measured?: string[];
                /** @description Which supply, where there are several. */
                supply?: string | null;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SocketCheck"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    diagnosis_v1_models__model__diagnosis_get: {
        parameters: {
            query?: {
                /** @description Symptom that is there. Repeats. */
                symptoms?: string[];
                /** @description Symptom looked for and not there. Repeats. */
                absent?: string[];
                /** @description Code on the display. Repeats. */
                codes?: string[];
                /** @description True for the whole decision tree. */
                tree?: boolean;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Diagnosis"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    diagnose_v1_models__model__diagnosis_post: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["DiagnosisRequest"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Diagnosis"];
                };
            };
            /** @description The body cannot be read. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    carry_v1_models__model__carry_get: {
        parameters: {
            query?: {
                /** @description Symptom that is there. Repeats. */
                symptoms?: string[];
                /** @description How many parts at the most. */
                parts?: number;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CarryAnswer"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    tell_v1_outcomes_post: {
        parameters: {
            query?: never;
            header?: {
                /** @description A new UUID for each job; the same when a report is sent again, which then counts once. */
                "idempotency-key"?: string | null;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["OutcomeReport"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutcomeKept"];
                };
            };
            /** @description The body cannot be read, or there is no idempotency key that is a UUID. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    outcomes_v1_models__model__outcomes_get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutcomeSummary"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    ontology_ontology_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                    "text/turtle": string;
                    "application/ld+json": string;
                    "application/rdf+xml": string;
                    "application/n-triples": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    codes_v1_models__model__codes_get: {
        parameters: {
            query?: {
                /** @description How many to pass over. */
                offset?: number;
                /** @description How many to give at the most. */
                limit?: number;
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CodeList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    code_v1_models__model__codes__code__get: {
        parameters: {
            query?: {
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
                code: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CodeDetail"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    service_modes_v1_models__model__service_modes_get: {
        parameters: {
            query?: {
                /** @description stored-codes, readings, component-test, clearing or configuration. Repeats. */
                kind?: string[];
                /** @description Serial number on the rating plate. */
                serial?: string | null;
            };
            header?: never;
            path: {
                model: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ServiceModeList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    graphs_v1_graphs_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GraphList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    check_v1_graphs_check_post: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "text/turtle": string;
                "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": string;
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GraphCheck"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Another version is served than the one this replaces; what changed is told. */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A body of this kind is not read here. */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is not said which version this replaces. */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    graph_v1_graphs__platform__get: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The graph. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/turtle": string;
                    "application/ld+json": string;
                    "application/rdf+xml": string;
                    "application/n-triples": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    publish_v1_graphs__platform__put: {
        parameters: {
            query: {
                /** @description Why the content changes; it is kept with the version. */
                why: string;
            };
            header?: {
                /** @description ETag of the version that this replaces, or * for whichever is served. */
                "if-match"?: string | null;
                /** @description * for a platform that is not served yet. */
                "if-none-match"?: string | null;
            };
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "text/turtle": string;
                "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": string;
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Published"];
                };
            };
            /** @description The platform is new. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Published"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Another version is served than the one this replaces; what changed is told. */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A body of this kind is not read here. */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is not said which version this replaces. */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    withdraw_v1_graphs__platform__delete: {
        parameters: {
            query: {
                /** @description Why the content changes; it is kept with the version. */
                why: string;
            };
            header?: {
                /** @description ETag of the version that this replaces, or * for whichever is served. */
                "if-match"?: string | null;
                /** @description * for a platform that is not served yet. */
                "if-none-match"?: string | null;
            };
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Published"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Another version is served than the one this replaces; what changed is told. */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A body of this kind is not read here. */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is not said which version this replaces. */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    versions_v1_graphs__platform__versions_get: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["VersionList"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    version_v1_graphs__platform__versions__number__get: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                platform: string;
                number: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The graph. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/turtle": string;
                    "application/ld+json": string;
                    "application/rdf+xml": string;
                    "application/n-triples": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    restore_v1_graphs__platform__versions__number__restore_post: {
        parameters: {
            query: {
                /** @description Why the content changes; it is kept with the version. */
                why: string;
            };
            header?: {
                /** @description ETag of the version that this replaces, or * for whichever is served. */
                "if-match"?: string | null;
                /** @description * for a platform that is not served yet. */
                "if-none-match"?: string | null;
            };
            path: {
                platform: string;
                number: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Published"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Another version is served than the one this replaces; what changed is told. */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A body of this kind is not read here. */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is not said which version this replaces. */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    difference_v1_graphs__platform__difference_get: {
        parameters: {
            query: {
                /** @description Number of a version. */
                before: number;
                /** @description Number of a version; left out, what is served. */
                after?: number | null;
            };
            header?: never;
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["VersionDifference"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    provenance_v1_graphs__platform__provenance_get: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                platform: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The provenance. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/turtle": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A name is unknown; the nearest are given. */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The representation asked for is not offered. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the serial number leaves more than one machine possible. */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The request cannot be answered as it stands. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    query_by_address_sparql_get: {
        parameters: {
            query?: {
                /** @description A query in SPARQL 1.1. Without one the answer is the service description. */
                query?: string;
                /** @description Graphs of this service, by name, that are merged to the default graph. It repeats. */
                "default-graph-uri"?: string[];
                /** @description Graphs of this service, by name, that GRAPH finds. It repeats. */
                "named-graph-uri"?: string[];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The whole answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/sparql-results+json": string;
                    "application/sparql-results+xml": string;
                    "text/csv": string;
                    "text/tab-separated-values": string;
                    "text/turtle": string;
                    "application/n-triples": string;
                    "application/rdf+xml": string;
                    "application/ld+json": string;
                    "text/html": string;
                };
            };
            /** @description This is no SPARQL 1.1 query, or there is more than one. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It changes something, or asks another service; or the key may do other things. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The answer is not offered in what is accepted. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It names a graph that is not served, was stopped at its time or memory, or its answer is too large. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many queries are waiting, or none are answered here. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    query_by_body_sparql_post: {
        parameters: {
            query?: {
                /** @description Graphs of this service, by name, that are merged to the default graph. It repeats. */
                "default-graph-uri"?: string[];
                /** @description Graphs of this service, by name, that GRAPH finds. It repeats. */
                "named-graph-uri"?: string[];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/x-www-form-urlencoded": {
                    query: string;
                    "default-graph-uri"?: string[];
                    "named-graph-uri"?: string[];
                };
                "application/sparql-query": string;
            };
        };
        responses: {
            /** @description The whole answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/sparql-results+json": string;
                    "application/sparql-results+xml": string;
                    "text/csv": string;
                    "text/tab-separated-values": string;
                    "text/turtle": string;
                    "application/n-triples": string;
                    "application/rdf+xml": string;
                    "application/ld+json": string;
                    "text/html": string;
                };
            };
            /** @description This is no SPARQL 1.1 query, or there is more than one. */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It changes something, or asks another service; or the key may do other things. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The answer is not offered in what is accepted. */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is too large. */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The address is too long. */
            414: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no query. */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It names a graph that is not served, was stopped at its time or memory, or its answer is too large. */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many queries are waiting, or none are answered here. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    health_healthz_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Health"];
                };
            };
        };
    };
    ready_readyz_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Readiness"];
                };
            };
            /** @description No request should be sent here. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Readiness"];
                };
            };
        };
    };
    metrics_metrics_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Prometheus text format. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/plain; version=0.0.4; charset=utf-8": string;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    context_v1_context_jsonld_get: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The context. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/ld+json": Record<string, never>;
                };
            };
            /** @description A key is needed, or it is not known. */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key may do other things, or none is set up for this. */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description These are more requests than are granted in a minute. */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The store, the content or what is kept failed, or too much is computed already. */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
}
