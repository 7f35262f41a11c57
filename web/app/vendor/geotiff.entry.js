// Reads GeoTIFFs (geotiff.js, MIT) in the page's own thread.
export { fromBlob } from "geotiff";
