// Made by `npm run types` from the OpenAPI document of the server. Do not change by hand.
export interface paths {
    "/api/boards": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Say what the boards of a piece come to, and with a change of the shop that is not saved */
        post: operations["boards"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/cards": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the pieces that there are bench cards of */
        get: operations["listCards"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/edit": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Change the text of a piece file at some places and leave the rest as it is */
        post: operations["editPiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/edit/words": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the words that parts and joints may have */
        get: operations["editWords"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/forces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What a part carries under a load case */
        post: operations["forces"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/joints": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Compare the joints of a connection, or of free sizes */
        post: operations["compareJoints"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/lessons": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The lessons and what may be changed in each */
        get: operations["listLessons"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/lessons/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** A lesson at some values, with its pictures and its working */
        post: operations["makeLesson"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/mends": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Single changes that make a piece hold */
        post: operations["mends"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/patterns": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the families of furniture */
        get: operations["listPatterns"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/patterns/{name}/source": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Read the script of a family */
        get: operations["patternSource"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/phones": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show whether phones may come in, and which did */
        get: operations["showPhones"];
        /** Open or shut the door for phones */
        put: operations["openToPhones"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/phones/code": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Make a code for one phone */
        post: operations["makePhoneCode"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/phones/join": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Hand a code in, once */
        post: operations["joinPhone"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/phones/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        /** Take the rights of a phone back */
        delete: operations["revokePhone"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pictures": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Keep a picture of a test */
        post: operations["sendPicture"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pictures/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Open a kept picture */
        get: operations["openPicture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Save a new piece */
        post: operations["createPiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Open the newest version of a piece */
        get: operations["openPiece"];
        /** Save a new version of a piece */
        put: operations["savePiece"];
        post?: never;
        /** Put a piece aside */
        delete: operations["deletePiece"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/cards": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show the bench cards of a piece with what was done */
        get: operations["showCards"];
        put?: never;
        /** Tick cards off, start and stop them, and note something */
        post: operations["tickCards"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/cards.html": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Write all cards of a piece into one file that needs nothing else */
        get: operations["carryCards"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/export/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Write a piece in an open format */
        get: operations["export"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/labels.pdf": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Print labels to stick on the parts */
        get: operations["labels"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/picture.svg": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Draw a piece for the shelf */
        get: operations["picture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/restore": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take a piece into use again */
        post: operations["restorePiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/versions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the versions of a piece, the newest first */
        get: operations["listPieceVersions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/versions/{n}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Open a version of a piece */
        get: operations["openPieceVersion"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/work": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show the order of work with what was done */
        get: operations["showWork"];
        put?: never;
        /** Tick tasks off, start and stop them, and plan the rest again */
        post: operations["recordWork"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/work/order.ics": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Write what is left to do as a calendar */
        get: operations["workCalendar"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/workbook.pdf": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Print the workbook of a piece */
        get: operations["workbook"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/plan": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Work a piece out without saving it */
        post: operations["plan"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/shelf": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show all pieces with their verdicts */
        get: operations["showShelf"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/shop": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Open the shop */
        get: operations["openShop"];
        /** Save a new version of the shop */
        put: operations["saveShop"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/shop/defects": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** Save the defects of a board on hand into the shop */
        put: operations["saveDefects"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/shop/rack": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take the boards of a piece off the rack and put what stays over on it */
        post: operations["putOnRack"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the joint tests, each in its newest version */
        get: operations["listTests"];
        put?: never;
        /** Record a joint test */
        post: operations["recordTest"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/form": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Say what to ask for a joint test */
        get: operations["testForm"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/import": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Record a table of joint tests: every row, or none when one has a problem */
        post: operations["importTests"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/log.csv": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Write the joint tests as a table that can be imported */
        get: operations["exportTests"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/report": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Say what the joint tests mean */
        get: operations["reportTests"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/{id}/corrections": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Correct a joint test */
        post: operations["correctTest"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/tests/{id}/versions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the versions of a joint test, the newest first */
        get: operations["listTestVersions"];
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
        Bent: {
            case: string;
            parts: components["schemas"]["BentPart"][];
            /**
             * Format: double
             * @description by how much movements are to be drawn larger than they are
             */
            times: number;
            /** @description the largest movement and the scale in a sentence */
            words: string;
        };
        BentPart: {
            id: string;
            /** @description movements of sections at equal steps along the part, from its low end to its high end */
            steps: components["schemas"]["Section"][];
        };
        BoardsAnswer: {
            now?: components["schemas"]["BoardsSummary"];
            problems: components["schemas"]["Problem"][];
            /** @description boards and offcuts on hand */
            rack: components["schemas"]["RackBoard"][];
            /** @description what stays over, a line each */
            rest: string[];
            /** @description with the change */
            then?: components["schemas"]["BoardsSummary"];
            /** @description sizes as sold */
            timber: string[];
        };
        BoardsBody: {
            /** @description what to change; nothing of it is saved */
            if?: components["schemas"]["WhatIf"];
            /** @description sizes to put in, by name, as they were typed */
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file */
            text: string;
        };
        BoardsSummary: {
            /**
             * Format: int64
             * @description boards to buy
             */
            bought: number;
            /** @description what to ask for, a line each */
            buy: string[];
            /**
             * Format: int64
             * @description the same in hundredths
             */
            cents: number;
            /** @description of the boards to buy, with the sign of the currency */
            cost: string;
            /** @description why there is no plan */
            fault?: string;
            /**
             * Format: int64
             * @description boards from the rack
             */
            onHand: number;
            /** @description how good the plan is */
            proof: string;
            /**
             * Format: double
             * @description share of all boards that is thrown away
             */
            waste: number;
        };
        BookAnswer: {
            sentence: string;
            warning?: string;
        };
        ByHand: {
            /** @description what was changed by hand, in the order of the file */
            changed: components["schemas"]["HandChange"][];
            /** @description every connection with its joint */
            joints: components["schemas"]["ConnectedPair"][];
            /**
             * Format: double
             * @description the smallest mark of the shop, mm
             */
            mark: number;
            /** @description the named dimensions that could be worked out, in the order of the file */
            named: components["schemas"]["NamedValue"][];
            /** @description for each part of the scene the place in the file that it comes from: pattern, parts[2], changes[0], repeats[1] */
            parts: string[];
            /** @description the lists and mappings of the piece file as they stand: parts, connections, repeats, changes, dimensions and so on */
            written: {
                [key: string]: unknown;
            };
        };
        Card: {
            /** @description what must be over before it is begun */
            after: string[];
            /** @description when it goes on */
            again: string[];
            /** @description such as 18:30 */
            at: string;
            cautions: components["schemas"]["Caution"][];
            /** @description the end waits for it */
            critical: boolean;
            /** @description such as Tuesday 20 October */
            day: string;
            /** @description every task of it is done */
            done: boolean;
            /** @description ids of figures of the deck */
            figures: string[];
            kind: string;
            /**
             * Format: int64
             * @description working time of each person
             */
            minutes: number;
            /** @description what to mind, where nobody is hurt */
            notes: string[];
            /**
             * Format: int64
             * @description from 1
             */
            number: number;
            parts: components["schemas"]["Part"][];
            /** Format: int64 */
            people: number;
            settings: components["schemas"]["Setting"][];
            /** @description what to tick */
            steps: string[];
            /** @description tasks of the order of work: one, or the same of several copies */
            tasks: components["schemas"]["Task"][];
            /** @description what waits after it, in words */
            then?: string;
            timers: components["schemas"]["Timer"][];
            title: string;
        };
        CardEvents: {
            events: components["schemas"]["WorkEvent"][];
            /** @description the time on the clock of the shop, such as 2026-10-20T18:30 */
            now: string;
            /**
             * Format: int64
             * @description version of the piece whose figures the page has; they are left out of the answer when it is still the newest
             */
            version?: number;
        };
        CardPiece: {
            id: string;
            name: string;
        };
        CardShelf: {
            /** @description name of the phone that asks; empty at the desk */
            phone: string;
            pieces: components["schemas"]["CardPiece"][];
        };
        CardsAnswer: {
            /** @description of what was just sent */
            clashes: components["schemas"]["WorkClash"][];
            deck: components["schemas"]["Deck"];
            id: string;
            /**
             * Format: int64
             * @description of the piece that the cards are made from
             */
            version: number;
        };
        Caution: {
            /** @description what must not happen before it is dealt with */
            stop?: string;
            text?: string;
            title?: string;
        };
        ChangedDefects: {
            /**
             * Format: int64
             * @description the version of the shop that the change was made from
             */
            base: number;
            board: string;
            defects: components["schemas"]["RackDefect"][] | null;
        };
        ChangedPiece: {
            /**
             * Format: int64
             * @description the version that the change was made from
             */
            base: number;
            /** @description why it was changed */
            note?: string;
            /** @description the piece file */
            text: string;
        };
        ChangedShop: {
            /**
             * Format: int64
             * @description the version that the change was made from
             */
            base: number;
            note?: string;
            /** @description the shop file */
            text: string;
        };
        ChapterInfo: {
            /** @description what the chapter says, in one sentence */
            answer: string;
            id: string;
            title: string;
            /** @description verdict of the chapter; empty when the chapter judges nothing */
            word: string;
        };
        Conflict: {
            /**
             * Format: int64
             * @description the newest version
             */
            current: number;
            /**
             * @description A human-readable explanation specific to this occurrence of the problem.
             * @example Property foo is required but is missing.
             */
            detail?: string;
            /** @description Optional list of individual error details */
            errors?: components["schemas"]["ErrorDetail"][] | null;
            /**
             * Format: uri
             * @description A URI reference that identifies the specific occurrence of the problem.
             * @example https://example.com/error-log/abc123
             */
            instance?: string;
            /**
             * Format: int64
             * @description HTTP status code
             * @example 400
             */
            status?: number;
            /**
             * @description A short, human-readable summary of the problem type. This value should not change between occurrences of the error.
             * @example Bad Request
             */
            title?: string;
            /**
             * Format: uri
             * @description A URI reference to human-readable documentation for the error.
             * @default about:blank
             * @example https://example.com/errors/example
             */
            type: string;
        };
        ConnectedPair: {
            between: string[];
            /** @description whether the maker decided */
            fixed: boolean;
            /** @description the joint that is planned; empty when there is none */
            kind: string;
            /** @description the kinds that can be made there */
            kinds: string[];
            name: string;
            purpose: string;
        };
        Correction: {
            /**
             * Format: int64
             * @description the version that is corrected
             */
            base: number;
            /**
             * Format: int64
             * @description dowels, screws or biscuits in the joint; 0 when not told
             */
            count?: number;
            /**
             * Format: double
             * @description hours between gluing and testing
             */
            cure_hours?: number;
            /**
             * Format: double
             * @description kg/m³ as tested; 0 when not weighed
             */
            density?: number;
            /** @description how the load acts */
            direction?: string;
            /** @description what gave way: one of the failures of the form */
            failure?: string;
            glue?: string;
            /** @description tests that belong together */
            group?: string;
            /** @description kind of joint */
            joint: string;
            /** @description from the load to the joint, a length */
            lever?: string;
            /** @description largest load, such as 950 N or 212 lbf */
            load: string;
            /**
             * Format: double
             * @description moisture content, %; 0 when not measured
             */
            moisture?: number;
            note?: string;
            /** @description id of a picture that was sent before */
            picture?: string;
            /** @description sizes of the joint and its parts, by name */
            sizes?: {
                [key: string]: string;
            };
            /** @description between the supports of the rig, a length */
            span?: string;
            /** @description wood of the parts */
            species: string;
            /** @description day of the test */
            tested?: string;
            /** @description true for a test that is not to be counted */
            withdrawn?: boolean;
        };
        Deck: {
            cards: components["schemas"]["Card"][];
            /** Format: int64 */
            copies: number;
            /** @description when everything is done, in words; empty when nothing could be dated */
            end: string;
            /** @description each once, however many cards show it */
            figures: components["schemas"]["Figure"][];
            /** @description of the plan as a whole: dates that are not known, findings of the order */
            notes: string[];
            piece: string;
            shop: string;
        };
        DeletedPiece: {
            /** Format: date-time */
            deleted: string;
            id: string;
            name: string;
            /** Format: int64 */
            version: number;
        };
        DoneJob: {
            /**
             * Format: int64
             * @description the version of the shop that the boards were planned with
             */
            base: number;
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file */
            text: string;
        };
        Edit: {
            /** @description the list or mapping that is changed: parts, connections, repeats, changes, joints, loads, dimensions, sizes, wood; empty for the file itself */
            in?: string;
            /**
             * Format: int64
             * @description item of a list; -1 adds one at the end
             */
            index?: number;
            /** @description move the part of an item of parts or changes, mm, where it is placed: its corner, or beside another part */
            move?: number[];
            /** @description take the item out */
            remove?: boolean;
            /** @description keys to write anew or to add: texts, numbers, yes and no, lists and mappings */
            set?: {
                [key: string]: unknown;
            };
            /** @description keys to take out */
            unset?: string[];
        };
        EditBody: {
            /** @description edits in their order; all are made or none */
            edits: components["schemas"]["Edit"][];
            /** @description sizes to put in first, by name, as they were typed */
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file */
            text: string;
        };
        EditWords: {
            builds: string[];
            /** @description kinds of joint */
            joints: string[];
            roles: string[];
            species: string[];
        };
        EditedText: {
            text: string;
        };
        ErrorDetail: {
            /** @description Where the error occurred, e.g. 'body.items[3].tags' or 'path.thing-id' */
            location?: string;
            /** @description Error message text */
            message?: string;
            /** @description The value at the given location */
            value?: unknown;
        };
        ErrorModel: {
            /**
             * @description A human-readable explanation specific to this occurrence of the problem.
             * @example Property foo is required but is missing.
             */
            detail?: string;
            /** @description Optional list of individual error details */
            errors?: components["schemas"]["ErrorDetail"][] | null;
            /**
             * Format: uri
             * @description A URI reference that identifies the specific occurrence of the problem.
             * @example https://example.com/error-log/abc123
             */
            instance?: string;
            /**
             * Format: int64
             * @description HTTP status code
             * @example 400
             */
            status?: number;
            /**
             * @description A short, human-readable summary of the problem type. This value should not change between occurrences of the error.
             * @example Bad Request
             */
            title?: string;
            /**
             * Format: uri
             * @description A URI reference to human-readable documentation for the error.
             * @default about:blank
             * @example https://example.com/errors/example
             */
            type: string;
        };
        ExtraBoard: {
            length: string;
            species: string;
            thickness: string;
            width: string;
        };
        Feature: {
            /** @description true for wood that stands out of the size of the part, such as a tenon */
            adds: boolean;
            /**
             * Format: double
             * @description of a cylinder
             */
            diameter?: number;
            /**
             * Format: double
             * @description mm by which the box is wider at its far end than at its mouth, on either side, across the width of the part
             */
            flare?: number;
            /** @description cylinder: centre of the open end; box: lowest corner */
            from: number[];
            id: string;
            /** @description name of the connection that it belongs to */
            joint?: string;
            /** @description the trade's word: bore, mortise, groove, rebate, notch, tenon */
            kind: string;
            /** @description id of the part that it fits */
            mate?: string;
            /** @description the way out of the side that the feature is on, of length one */
            out: number[];
            /** @description the narrow sides of the box are half round, as a cutter leaves them */
            rounded?: boolean;
            /** @enum {string} */
            shape: "cylinder" | "box";
            /** @description cylinder: centre of the bottom; box: highest corner */
            to: number[];
            /** @description what it is in words, with its sizes */
            words: string;
        };
        Figure: {
            caption: string;
            id: string;
            /** @description made by the program; it holds no script, style or event */
            svg: string;
        };
        ForcesAnswer: {
            case: string;
            /** @description the load cases that can be asked for, the one that uses the part hardest first */
            cases: string[];
            curves: components["schemas"]["ForcesLine"][];
            /** @description the part with its forces under it, as an svg element */
            drawing: string;
            /** @description what is joined to the part, from its low end */
            joints: components["schemas"]["ForcesJoin"][];
            /**
             * Format: double
             * @description of the part, mm
             */
            length: number;
            /** @description id of the part */
            part: string;
            /** @description the parts of the frame: those that can be asked for */
            parts: components["schemas"]["ForcesPart"][];
            /** @description the most that it carries in a sentence */
            words: string;
        };
        ForcesBody: {
            /** @description load case by name; without it the one that uses the part hardest */
            case?: string;
            /** @description id of the part; without it the one whose wood is used hardest */
            part?: string;
            /** @description sizes to put in, by name, as they were typed */
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file */
            text: string;
        };
        ForcesJoin: {
            /**
             * Format: double
             * @description mm from the low end
             */
            at: number;
            /** @description of the other part */
            id: string;
        };
        ForcesLine: {
            /** @description what a value above nothing does; empty where the sign says little */
            above: string;
            /** @description places, mm from the low end */
            at: number[];
            below: string;
            /** @description the most above nothing with its place, in words */
            mostAbove: string;
            mostBelow: string;
            name: string;
            /** @description the force at each place */
            of: number[];
            /** @enum {string} */
            unit: "N" | "N·m";
        };
        ForcesPart: {
            id: string;
            name: string;
        };
        GluedPart: {
            /**
             * @description width for the staves of a panel, thickness for the strips of a lamination
             * @enum {string}
             */
            across: "width" | "thickness";
            /** @description mm from the face or edge that the part is measured from to each glue line, rising */
            at: number[];
        };
        HandChange: {
            /**
             * Format: int64
             * @description place in the list of changes of the file
             */
            index: number;
            /** @description why a joint cannot be made as asked */
            misfit?: string;
            now: string;
            /** @description the part, or the two parts of a joint */
            of: string;
            was: string;
            what: string;
        };
        ImportedTests: {
            /** Format: int64 */
            added: number;
            /**
             * Format: int64
             * @description problems that are not listed
             */
            more: number;
            /** @description each with its line, column and heading; at most 100 */
            problems: components["schemas"]["Problem"][];
        };
        JointCompared: {
            /**
             * Format: double
             * @description N·m that 95 of 100 bear, bent the strong way
             */
            bending: number;
            chosen: boolean;
            /** @description of its hardware, in words where there is none */
            cost: string;
            /**
             * Format: double
             * @description glue surface on end grain, cm²
             */
            end: number;
            kind: string;
            /** @description what gives way first */
            limit: string;
            /**
             * Format: double
             * @description glue surface on long grain, cm²
             */
            long: number;
            /** Format: double */
            minutes: number;
            name: string;
            /**
             * Format: double
             * @description lower strength over load; missing without a load
             */
            reserve?: number;
            /** @description rules of the trade that it breaks, by their short names */
            rules: string;
            shows: string;
            /** @description empty without a load */
            verdict: string;
        };
        JointTest: {
            /** Format: int64 */
            count?: number;
            /** Format: double */
            cure_hours?: number;
            /**
             * Format: double
             * @description kg/m³
             */
            density?: number;
            direction?: string;
            failure?: string;
            glue?: string;
            group?: string;
            id: string;
            joint: string;
            lever?: components["schemas"]["Typed"];
            load: components["schemas"]["Typed"];
            /**
             * Format: double
             * @description %
             */
            moisture?: number;
            note?: string;
            picture?: string;
            /** @description mean load that the book gave when this was recorded; missing when the sizes did not suffice */
            predicted?: components["schemas"]["Typed"];
            /** Format: date-time */
            recorded: string;
            sizes?: {
                [key: string]: components["schemas"]["Typed"];
            };
            span?: components["schemas"]["Typed"];
            species: string;
            tested?: string;
            /**
             * Format: int64
             * @description 1 is the first record, each correction adds one
             */
            version: number;
            withdrawn?: boolean;
        };
        JointsAnswer: {
            /** @description connections of the piece that can be asked for */
            groups: string[];
            joints: components["schemas"]["JointCompared"][];
            problems: components["schemas"]["Problem"][];
            /** @description what the rules of the trade that the chosen joint breaks would cost or give */
            rules: string[];
            /** @description woods that can be asked for */
            species: string[];
            /** @description the comparison as a picture with the shop's own tests laid over, made by the program */
            svg: string;
            /** @description what the shop's own tests say of the kinds compared */
            tests: string[];
            title: string;
            /**
             * Format: double
             * @description reserve that is wanted
             */
            wanted: number;
            /** @description why the chosen joint was chosen */
            why: string;
        };
        JointsBody: {
            /**
             * Format: double
             * @description N·m that bend the joint the strong way
             */
            bend?: number;
            /** @description one of groups of an earlier answer, or the name of a connection; the first group without it */
            connection?: string;
            /** @description of the post, square to the end of the rail */
            depth?: string;
            /** @description force that pulls it apart, as it was typed */
            pull?: string;
            /**
             * Format: double
             * @description N·m that bend it the weak way
             */
            sideways?: number;
            /** @description sizes to put into the piece, by name, as they were typed */
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file; without it the sizes below say what is joined */
            text?: string;
            /** @description of the rail */
            thickness?: string;
            /** @description of the rail where it meets the post, as it was typed */
            width?: string;
            wood?: string;
        };
        KeptPicture: {
            id: string;
        };
        LessonAnswer: {
            /** @description SVG made by the program: the answer over the input that matters most */
            curve: string;
            /** @description SVG made by the program */
            picture: string;
            says: string;
            /** @description as they were used: within their ranges */
            values: {
                [key: string]: number;
            };
            working: components["schemas"]["LessonStep"][];
        };
        LessonBody: {
            /** @description by name of the input */
            values?: {
                [key: string]: number;
            };
        };
        LessonInfo: {
            about: string;
            id: string;
            inputs: components["schemas"]["LessonInput"][];
            title: string;
        };
        LessonInput: {
            /** Format: double */
            default: number;
            /** Format: double */
            max: number;
            /** Format: double */
            min: number;
            name: string;
            /** Format: double */
            step: number;
            title: string;
            unit: string;
        };
        LessonStep: {
            formula: string;
            inputs: string[];
            note: string;
            result: string;
            source: string;
            title: string;
        };
        LoggedTest: {
            /** Format: int64 */
            count?: number;
            /** Format: double */
            cure_hours?: number;
            /**
             * Format: double
             * @description kg/m³
             */
            density?: number;
            direction?: string;
            failure?: string;
            glue?: string;
            group?: string;
            id: string;
            joint: string;
            /** @description what is missing to set the test beside the book; empty when nothing is */
            lacks: string[];
            lever?: components["schemas"]["Typed"];
            load: components["schemas"]["Typed"];
            /**
             * Format: double
             * @description %
             */
            moisture?: number;
            note?: string;
            /**
             * Format: int64
             * @description place in the log, from 1
             */
            number: number;
            picture?: string;
            /** @description mean load that the book gave when this was recorded; missing when the sizes did not suffice */
            predicted?: components["schemas"]["Typed"];
            /** Format: date-time */
            recorded: string;
            sizes?: {
                [key: string]: components["schemas"]["Typed"];
            };
            span?: components["schemas"]["Typed"];
            species: string;
            tested?: string;
            /**
             * Format: int64
             * @description 1 is the first record, each correction adds one
             */
            version: number;
            withdrawn?: boolean;
        };
        Mend: {
            /** @description the change in words */
            change: string;
            /**
             * Format: double
             * @description hours of work more, or less when negative
             */
            hours: number;
            /** @description what it mends, with the reserves before and after */
            mends: string;
            /** @description what the piece then costs more, with its sign */
            money: string;
            /** @description true when no single change is enough and this one comes nearest */
            short: boolean;
            /** @description sizes to put in, by name; empty when the change is not one of sizes */
            sizes: {
                [key: string]: string;
            };
            /**
             * @description whether the piece then holds
             * @enum {string}
             */
            word: "holds" | "tight" | "does not hold";
        };
        MendAnswer: {
            mends: components["schemas"]["Mend"][];
        };
        NamedValue: {
            /** @description what it comes to */
            is: string;
            name: string;
            /** @description as written */
            text: string;
        };
        NewPiece: {
            note?: string;
            /** @description the piece file */
            text: string;
        };
        NewTest: {
            /**
             * Format: int64
             * @description dowels, screws or biscuits in the joint; 0 when not told
             */
            count?: number;
            /**
             * Format: double
             * @description hours between gluing and testing
             */
            cure_hours?: number;
            /**
             * Format: double
             * @description kg/m³ as tested; 0 when not weighed
             */
            density?: number;
            /** @description how the load acts */
            direction?: string;
            /** @description what gave way: one of the failures of the form */
            failure?: string;
            glue?: string;
            /** @description tests that belong together */
            group?: string;
            /** @description kind of joint */
            joint: string;
            /** @description from the load to the joint, a length */
            lever?: string;
            /** @description largest load, such as 950 N or 212 lbf */
            load: string;
            /**
             * Format: double
             * @description moisture content, %; 0 when not measured
             */
            moisture?: number;
            note?: string;
            /** @description id of a picture that was sent before */
            picture?: string;
            /** @description sizes of the joint and its parts, by name */
            sizes?: {
                [key: string]: string;
            };
            /** @description between the supports of the rig, a length */
            span?: string;
            /** @description wood of the parts */
            species: string;
            /** @description day of the test */
            tested?: string;
            /** @description true for a test that is not to be counted */
            withdrawn?: boolean;
        };
        OpenChapter: {
            /** @description the chapter as HTML made by the program, with drawings as SVG; it holds no script, style or event */
            html: string;
            id: string;
        };
        Part: {
            mark: string;
            name: string;
        };
        PatternInfo: {
            /** @description what it makes, in a sentence or two */
            help: string;
            /** @description name as a piece file uses it */
            name: string;
            /** @description what can be chosen, in the order in which to ask */
            sizes: components["schemas"]["PatternSize"][];
            /** @description name as a person reads it */
            title: string;
        };
        PatternSize: {
            /** @description the words of a choice; empty for other kinds */
            choices: string[];
            /** @description value when nothing is chosen, as it would be typed */
            default: string;
            help: string;
            /** @enum {string} */
            kind: "length" | "count" | "choice" | "yesno" | "angle";
            /**
             * Format: double
             * @description largest value, like min
             */
            max: number;
            /**
             * Format: double
             * @description least value: mm for a length, degrees for an angle; 0 for a choice or yesno
             */
            min: number;
            /** @description name as a piece file uses it */
            name: string;
            /**
             * Format: double
             * @description step of a slider, like min
             */
            step: number;
            /** @description name as a person reads it */
            title: string;
        };
        PhoneCode: {
            /** @description where to type it */
            address: string;
            /** @description good once, to be typed on the phone */
            code: string;
            /** Format: date-time */
            expires: string;
            /** @description address and code for the camera of the phone */
            svg: string;
        };
        PhoneCodeFor: {
            /** @description one of the addresses of the door; the first when none is given */
            address?: string;
            /** @description piece whose cards the code leads to */
            piece?: string;
        };
        PhoneDoor: {
            open: boolean;
        };
        PhoneJoin: {
            code: string;
        };
        PhoneJoined: {
            /** Format: date-time */
            expires: string;
            name: string;
        };
        PhoneOfShop: {
            /** Format: date-time */
            expires: string;
            id: string;
            /** Format: date-time */
            joined: string;
            name: string;
            /**
             * Format: date-time
             * @description within the hour
             */
            seen: string;
        };
        PhoneState: {
            /** @description where they find them, such as http://192.168.1.20:7475 */
            addresses: string[];
            /** @description phones in the same network can reach the cards */
            open: boolean;
            phones: components["schemas"]["PhoneOfShop"][];
        };
        Piece: {
            /** Format: date-time */
            created: string;
            /**
             * Format: date-time
             * @description when the piece was put aside; missing while it is in use
             */
            deleted?: string;
            id: string;
            name: string;
            note: string;
            /** Format: date-time */
            saved: string;
            /** @description the piece file */
            text: string;
            /** Format: int64 */
            version: number;
        };
        PieceSize: {
            choices: string[];
            help: string;
            /** @enum {string} */
            kind: "length" | "count" | "choice" | "yesno" | "angle";
            /** Format: double */
            max: number;
            /**
             * Format: double
             * @description least value: mm for a length, degrees for an angle
             */
            min: number;
            /**
             * Format: double
             * @description value of a length, mm
             */
            mm?: number;
            name: string;
            /**
             * Format: double
             * @description value of a count, or of an angle in degrees
             */
            number?: number;
            /** @description what is wrong with the value and how to mend it */
            problem?: string;
            /** Format: double */
            step: number;
            /** @description the value as it was typed */
            text: string;
            title: string;
        };
        PieceVersion: {
            name: string;
            note: string;
            /** Format: date-time */
            saved: string;
            /** Format: int64 */
            version: number;
        };
        PlanAnswer: {
            /** @description load cases worth looking at bent, the one that moves the piece most first */
            bends: string[];
            /** @description how the piece bends in the case that was asked for; missing when the piece has no such case */
            bent?: components["schemas"]["Bent"];
            /** @description what the file says part by part; of a piece that cannot be planned only what is written */
            byHand?: components["schemas"]["ByHand"];
            /** @description all chapters in the order of the work */
            chapters: components["schemas"]["ChapterInfo"][];
            /** @description the chapter that was asked for */
            open?: components["schemas"]["OpenChapter"];
            piece?: components["schemas"]["PlannedPiece"];
            problems: components["schemas"]["Problem"][];
            scene?: components["schemas"]["Scene"];
            /** @description the piece file with the sizes put in */
            text: string;
            /** @description the order in which the parts go together */
            together?: components["schemas"]["Together"];
            verdict?: components["schemas"]["Verdict"];
        };
        PlanBody: {
            /** @description load case to bend the piece by, one of bends of an earlier answer */
            bend?: string;
            /** @description id of the chapter to return in full */
            chapter?: string;
            /** @description a hand is still moving sizes: boards are searched only shortly, and what hangs on them is about so */
            moving?: boolean;
            /** @description sizes to put in, by name, as they were typed */
            sizes?: {
                [key: string]: string;
            };
            /** @description the piece file */
            text: string;
        };
        PlannedPiece: {
            name: string;
            sizes: components["schemas"]["PieceSize"][];
            /**
             * @description family of units to show lengths in
             * @enum {string}
             */
            units: "metric" | "inch";
        };
        Position: {
            /** Format: int64 */
            column?: number;
            file?: string;
            /** Format: int64 */
            line?: number;
            path?: string;
        };
        Problem: {
            also?: components["schemas"]["Position"];
            at: components["schemas"]["Position"];
            code: string;
            expected?: string;
            mend: string;
            what: string;
        };
        RackBoard: {
            defects: components["schemas"]["RackDefect"][];
            /** Format: double */
            length: number;
            name: string;
            offcut: boolean;
            species: string;
            /** Format: double */
            thickness: number;
            /** @description the plan cuts it */
            used: boolean;
            /** Format: double */
            width: number;
        };
        RackDefect: {
            /** Format: double */
            from: number;
            /** @enum {string} */
            kind: "knot" | "check" | "split" | "wane" | "pith" | "stain" | "nail" | "other";
            /** Format: double */
            left: number;
            /** Format: double */
            right: number;
            /** Format: double */
            to: number;
        };
        SavedPiece: {
            id: string;
            name: string;
            /** Format: date-time */
            saved: string;
            /** Format: int64 */
            version: number;
        };
        Scene: {
            /** @description connections of parts, in the order of the piece */
            joints: components["schemas"]["SceneJoint"][];
            parts: components["schemas"]["ScenePart"][];
            /** @description places where the piece does not fit, the worst first */
            places: components["schemas"]["ScenePlace"][];
            /** @description missing when the shop tells no climate of the place of use */
            year?: components["schemas"]["SceneYear"];
        };
        SceneJoint: {
            /** @description middle of the place where the parts meet, mm */
            at: number[];
            /** @description lowest corner of a box around the joint with all that is cut for it, mm */
            from: number[];
            /** @description as the chapters call it */
            name: string;
            /** @description ids of the two parts */
            parts: string[];
            /** @description highest corner */
            to: number[];
            /** @description the joint in words; empty where none could be made */
            words: string;
        };
        SceneMonth: {
            name: string;
            /**
             * Format: double
             * @description of the movement to the dampest month; less than 0 where the wood is drier than when it was worked
             */
            share: number;
            /** @description what the widest part does, in a sentence */
            words: string;
        };
        ScenePart: {
            /** @description directions of length, width and thickness, each of length one */
            axes: number[][];
            /** @description how far the part moves in the exploded view, mm */
            explode: number[];
            features: components["schemas"]["Feature"][];
            /** @description how the part is glued up; missing for a part of one board, and while no boards are planned */
            glued?: components["schemas"]["GluedPart"];
            id: string;
            /** @description what the part is made as, such as solid, laminated or panel */
            kind: string;
            name: string;
            /** @description place of the corner 0, 0, 0 of the part, mm */
            origin: number[];
            /** @description what the part is in the piece, such as leg or rail */
            role: string;
            /** @description length along the grain, width, thickness, mm */
            size: number[];
            species: string;
            /** @description the surface of a part that has sides at an angle; without one it follows from size and features */
            surface?: components["schemas"]["Surface"];
        };
        ScenePlace: {
            /** @description the smallest change that mends it */
            advice: string;
            /** @description lowest corner of a box around the place, mm */
            from: number[];
            /** @description id of the part */
            part: string;
            /** @description highest corner */
            to: number[];
            /** @description what is wrong there */
            what: string;
        };
        SceneYear: {
            /** @description in the order of the shop file */
            months: components["schemas"]["SceneMonth"][];
            /** @description parts that move across the grain */
            parts: components["schemas"]["YearPart"][];
            /**
             * Format: double
             * @description by how much the movement is to be drawn larger than it is
             */
            times: number;
        };
        Section: {
            /** @description of the middle of the section, mm */
            shift: number[];
            /** @description radians */
            turn: number[];
        };
        Setting: {
            name: string;
            value: string;
        };
        Shelf: {
            /** @description pieces put aside, the last one first */
            deleted: components["schemas"]["DeletedPiece"][];
            /** @description pieces in use, the last saved first */
            pieces: components["schemas"]["ShelfPiece"][];
        };
        ShelfPiece: {
            /** @description the answer in one sentence */
            answer: string;
            id: string;
            name: string;
            /** @description address of an SVG picture of the piece as saved */
            picture: string;
            /** Format: date-time */
            saved: string;
            /**
             * Format: int64
             * @description newest version
             */
            version: number;
            /** @enum {string} */
            word: "holds" | "tight" | "does not hold" | "cannot be planned";
        };
        Shop: {
            problems: components["schemas"]["Problem"][];
            /** Format: date-time */
            saved?: string;
            /** @description the shop file */
            text: string;
            /**
             * Format: int64
             * @description 0 while nobody has saved a shop; the text is then the one that the program comes with
             */
            version: number;
        };
        Surface: {
            /** @description how many triangles there are of sides, of cuts and of what stands out */
            counts: number[];
            /** @description six numbers for each line along an edge */
            lines: number[];
            /** @description nine numbers each, counterclockwise from outside: first those of its sides, then of cuts, then of what stands out */
            triangles: number[];
        };
        Task: {
            id: string;
            name: string;
            note?: string;
            running?: boolean;
            /** @description started or done; empty while it is still to be done */
            state?: string;
        };
        TestChart: {
            /** @description made by the program; it holds no script, style or event */
            svg: string;
            title: string;
        };
        TestForm: {
            directions: string[];
            failures: string[];
            /** @description kinds of joint that the book knows; others may be logged too */
            kinds: components["schemas"]["TestKind"][];
            /** @description woods of the catalogue */
            species: string[];
        };
        TestGroup: {
            /**
             * Format: int64
             * @description tests in which the joint outlived the wood
             */
            held: number;
            /**
             * Format: double
             * @description 95 of 100 such joints reach it, said with 75 % confidence; missing when there are too few tests
             */
            lower5?: number;
            /** Format: double */
            mean?: number;
            name: string;
            /** Format: double */
            predicted?: number;
            /** @enum {string} */
            quantity: "load" | "moment";
            sentence: string;
            /**
             * Format: double
             * @description coefficient of variation
             */
            spread?: number;
            /** Format: int64 */
            tests: number;
            unit: string;
            warnings: string[];
            /** Format: int64 */
            withdrawn: number;
        };
        TestKind: {
            /** @description whether the number of dowels, screws or biscuits must be told */
            counted: boolean;
            name: string;
            /** @description in the order in which to ask */
            sizes: components["schemas"]["TestSize"][];
        };
        TestReport: {
            /** @description how far the shop's joints lie from the book, by kind */
            book: components["schemas"]["BookAnswer"][];
            /** @description one for each quantity */
            charts: components["schemas"]["TestChart"][];
            /** @description plain sentences */
            comparisons: string[];
            groups: components["schemas"]["TestGroup"][];
            notes: string[];
            /** Format: int64 */
            tests: number;
            /** @description tests that cannot be set beside the book, and what is missing */
            unused: string[];
        };
        TestSize: {
            help: string;
            name: string;
        };
        Timer: {
            /** @description within the card */
            id: string;
            /** Format: int64 */
            minutes: number;
            /** @description such as Clamps stay on */
            name: string;
            note?: string;
            /** @description what to do when it rings */
            ring: string;
        };
        Together: {
            /** @description false when some parts cannot be put together by straight pushes; the steps are then those around them */
            possible: boolean;
            /** @description in the order of the work */
            steps: components["schemas"]["TogetherStep"][];
            /** @description ids of the parts that cannot be put together */
            stuck: string[];
        };
        TogetherStep: {
            /** @description the way of the push, of length one */
            direction: number[];
            /**
             * Format: double
             * @description mm from where the step is to be shown to where the parts belong; at least three times travel
             */
            distance: number;
            /** @description names of the connections that close */
            joints: string[];
            /** @description ids of the parts that are pushed, all as one */
            moving: string[];
            /** @description ids of the parts that stay */
            onto: string[];
            /**
             * Format: double
             * @description mm of the push in which pins, tenons or laps already hold the parts in line
             */
            travel: number;
            /** @description the step in a sentence */
            words: string;
        };
        Typed: {
            /**
             * Format: double
             * @description metres for a length, newtons for a force
             */
            si: number;
            text: string;
        };
        Verdict: {
            /** @description the answer in one sentence */
            answer: string;
            /** @enum {string} */
            word: "holds" | "tight" | "does not hold" | "cannot be planned";
        };
        WhatIf: {
            /** @description one more board on hand */
            board?: components["schemas"]["ExtraBoard"];
            /** @description another width of the saw cut, as it was typed */
            kerf?: string;
            /** @description that length, as it was typed */
            length?: string;
            /**
             * Format: double
             * @description price of one such piece; by the price of the other lengths when it is 0
             */
            price?: number;
            /** @description size as sold that gets one more length */
            timber?: string;
        };
        WorkAnswer: {
            /** @description true when it was planned again from what was noted */
            again: boolean;
            /** @description of what was just sent */
            clashes: components["schemas"]["WorkClash"][];
            days: components["schemas"]["WorkDay"][];
            /** Format: int64 */
            done: number;
            /** @description when everything is done, in words; empty when nothing could be dated */
            end: string;
            findings: components["schemas"]["WorkFind"][];
            /** @description the chapter of the order of work, with its charts, as HTML made by the program */
            html: string;
            notes: string[];
            /** @description whether the end could be earlier, in words */
            proof: string;
            /**
             * Format: int64
             * @description tasks that somebody does
             */
            tasks: number;
        };
        WorkClash: {
            /** @description when it was ticked off first */
            at: string;
            /** @description where it was ticked off first: the name of a phone, or empty for the desk */
            by: string;
            /** @description of the event that was not kept */
            id: string;
            name: string;
            task: string;
        };
        WorkDay: {
            tasks: components["schemas"]["WorkTask"][];
            title: string;
        };
        WorkEvent: {
            /** @enum {string} */
            action: "start" | "stop" | "done" | "undo" | "note";
            /** @description on the clock of the shop, without a zone, such as 2026-10-20T18:30 */
            at: string;
            /** @description a name of the event's own, made by the page */
            id: string;
            /** @description the task in words, to be read later */
            name?: string;
            note?: string;
            /** @description id of the task in the order of work */
            task: string;
        };
        WorkEvents: {
            events: components["schemas"]["WorkEvent"][];
            /** @description the time on the clock of the shop, such as 2026-10-20T18:30 */
            now: string;
        };
        WorkFind: {
            advice: string;
            what: string;
            where: string;
        };
        WorkTask: {
            /** @description time of day at which it begins or goes on */
            at: string;
            /** @description of vapours and rags, to be shown beside it */
            cautions: string[];
            /** @description what to have at hand, in words */
            clamps?: string;
            /** @description the end waits for it */
            critical: boolean;
            id: string;
            /**
             * Format: int64
             * @description planned working time of each person
             */
            minutes: number;
            name: string;
            note?: string;
            /** Format: int64 */
            people: number;
            /** @enum {string} */
            state: "open" | "started" | "running" | "done";
            /** @description of a wait, in words */
            until?: string;
            /** @description nobody attends it, and it is not ticked off */
            wait: boolean;
        };
        YearPart: {
            id: string;
            /**
             * Format: double
             * @description mm thicker
             */
            thickness: number;
            /**
             * Format: double
             * @description mm wider
             */
            width: number;
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
    boards: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BoardsBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BoardsAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listCards: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CardShelf"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    editPiece: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["EditBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EditedText"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    editWords: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EditWords"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    forces: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ForcesBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ForcesAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    compareJoints: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["JointsBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JointsAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listLessons: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LessonInfo"][];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    makeLesson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LessonBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LessonAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    mends: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PlanBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MendAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listPatterns: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PatternInfo"][];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    patternSource: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "text/plain": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    showPhones: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhoneState"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    openToPhones: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PhoneDoor"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhoneState"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    makePhoneCode: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PhoneCodeFor"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhoneCode"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    joinPhone: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PhoneJoin"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Set-Cookie"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhoneJoined"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    revokePhone: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhoneState"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    sendPicture: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/octet-stream": string;
            };
        };
        responses: {
            /** @description Created */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["KeptPicture"];
                };
            };
            /** @description Unsupported Media Type */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    openPicture: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "image/*": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    createPiece: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewPiece"];
            };
        };
        responses: {
            /** @description Created */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedPiece"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    openPiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Piece"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    savePiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ChangedPiece"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SavedPiece"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Somebody else saved in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Conflict"];
                };
            };
            /** @description Gone */
            410: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    deletePiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description No Content */
            204: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    showCards: {
        parameters: {
            query?: {
                /** @description the time on the clock of the shop, such as 2026-10-20T18:30; needed once something was noted */
                now?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CardsAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    tickCards: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CardEvents"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CardsAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    carryCards: {
        parameters: {
            query?: {
                /** @description the time on the clock of the shop, such as 2026-10-20T18:30; needed once something was noted */
                now?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "text/html": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    export: {
        parameters: {
            query?: {
                /** @description version of the piece; 0 or none for the newest */
                version?: number;
            };
            header?: never;
            path: {
                id: string;
                /** @description name of the file, such as cutlist.csv */
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/octet-stream": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    labels: {
        parameters: {
            query?: {
                paper?: "a4" | "letter";
                /** @description version of the piece; 0 or none for the newest */
                version?: number;
                /** @description where this server is seen from a phone, such as http://workshop:7474; the code of each label leads there */
                at?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/pdf": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    picture: {
        parameters: {
            query?: {
                /** @description version of the piece; 0 or none for the newest */
                version?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    restorePiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Piece"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listPieceVersions: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PieceVersion"][];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    openPieceVersion: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
                n: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Piece"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    showWork: {
        parameters: {
            query?: {
                /** @description the time on the clock of the shop, such as 2026-10-20T18:30; needed once something was noted */
                now?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WorkAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    recordWork: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["WorkEvents"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WorkAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    workCalendar: {
        parameters: {
            query?: {
                /** @description the time on the clock of the shop, such as 2026-10-20T18:30; needed once something was noted */
                now?: string;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "text/calendar": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    workbook: {
        parameters: {
            query?: {
                paper?: "a4" | "letter";
                /** @description what to print, with commas between; without it the whole book */
                chapters?: ("piece" | "holds" | "joints" | "year" | "timber" | "boards" | "marking" | "glueups" | "finish" | "order" | "cost" | "assembly" | "buy-list" | "mark-out" | "templates")[] | null;
                /** @description true for a class: questions left open, answers with their working at the end */
                lesson?: boolean;
                /** @description version of the piece; 0 or none for the newest */
                version?: number;
            };
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/pdf": string;
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    plan: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PlanBody"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PlanAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    showShelf: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Shelf"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    openShop: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Shop"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    saveShop: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ChangedShop"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Shop"];
                };
            };
            /** @description Somebody else saved in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Conflict"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    saveDefects: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ChangedDefects"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Shop"];
                };
            };
            /** @description Somebody else saved in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Conflict"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    putOnRack: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["DoneJob"];
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Shop"];
                };
            };
            /** @description Somebody else saved in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Conflict"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listTests: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LoggedTest"][];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    recordTest: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewTest"];
            };
        };
        responses: {
            /** @description Created */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JointTest"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    testForm: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TestForm"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    importTests: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "text/csv": string;
            };
        };
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportedTests"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    exportTests: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    "Cache-Control"?: string;
                    "Content-Disposition"?: string;
                    "Content-Security-Policy"?: string;
                    "Content-Type"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    reportTests: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TestReport"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    correctTest: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Correction"];
            };
        };
        responses: {
            /** @description Created */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JointTest"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Somebody else saved in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Conflict"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
    listTestVersions: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description OK */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JointTest"][];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["ErrorModel"];
                };
            };
        };
    };
}
