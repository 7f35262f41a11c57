// The version of everything that was served together, from the page itself.

export const version = document.querySelector<HTMLMetaElement>("meta[name=version]")?.content ?? "";
