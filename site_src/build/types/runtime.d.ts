// Python's runtime for the browser, as its own types have it.

type CreateModule = NonNullable<import("pyodide").PyodideConfig["createPyodideModule"]>;
type RuntimeModule = Awaited<ReturnType<CreateModule>>;
/** What its two scripts export. */
type Scripts = [caller: typeof import("pyodide"), loader: { default: CreateModule }];
